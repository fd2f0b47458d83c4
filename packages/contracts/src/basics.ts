import { z } from 'zod';

/** UUIDv7 made by whoever creates the thing, so that a device can create offline and send the same id again. */
export const Id = z.uuid();
export const Instant = z.iso.datetime({ offset: true }).describe('ISO 8601 instant');
export const Day = z.iso.date();
/** Integer milligrams. A JavaScript safe integer holds nine thousand tonnes. */
export const MassMg = z.int();
/** A number exactly as a person typed it; read by the formulation package so that "1,234" can be refused and blank never becomes zero. */
export const Entered = z.string().max(40);
export const Name = z.string().trim().min(1, 'Write a name.').max(80, 'Use at most 80 characters.');
export const Line = z.string().trim().max(200, 'Use at most 200 characters.');
export const Text = z.string().trim().max(4000, 'Use at most 4000 characters.');
export const Created = z.object({ id: Id });
export const Empty = z.object({});
export const IntervalOut = z.object({ low: z.number(), nominal: z.number(), high: z.number() });
