import { z } from 'zod';
import { Id, Instant, Name } from './basics.ts';

export const Role = z.enum(['owner', 'manager', 'instructor', 'assistant']);
export type Role = z.infer<typeof Role>;

export const Email = z.email('Write an e-mail address such as name@example.org.').max(200).toLowerCase();
export const Password = z.string().max(200);

export const SignIn = z.object({ email: Email, password: Password, studio: z.string().max(60).optional() });
export type SignIn = z.infer<typeof SignIn>;

export const StudioOut = z.object({
  id: Id,
  name: z.string(),
  timeZone: z.string(),
  emergencyPhone: z.string(),
  isDemo: z.boolean(),
});
export const StaffOut = z.object({ kind: z.literal('staff'), id: Id, name: z.string(), email: z.string(), role: Role, studio: StudioOut });
export const SeatOut = z.object({
  kind: z.literal('seat'),
  id: Id,
  name: z.string(),
  classId: Id,
  classStationId: Id,
  studio: StudioOut,
});
export const Me = z.discriminatedUnion('kind', [StaffOut, SeatOut, z.object({ kind: z.literal('nobody') })]);
export type Me = z.infer<typeof Me>;

export const SetUp = z.object({
  code: z.string().max(60),
  studioName: Name,
  timeZone: z.string().max(60),
  emergencyPhone: z.string().trim().min(1, 'Write the number to call in an emergency.').max(40),
  name: Name,
  email: Email,
  password: Password,
});
export type SetUp = z.infer<typeof SetUp>;
export const SetUpState = z.object({ needed: z.boolean() });

export const AddPerson = z.object({ id: Id, name: Name, email: Email, role: Role, password: Password });
export type AddPerson = z.infer<typeof AddPerson>;
export const PersonOut = z.object({ id: Id, name: z.string(), email: z.string(), role: Role, createdAt: Instant, disabled: z.boolean() });
export const People = z.object({ people: z.array(PersonOut) });
