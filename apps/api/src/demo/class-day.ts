import type { CardStep, StationView } from '@ashwater/contracts';
import { newId } from '../ids.ts';
import type { Client } from './client.ts';

/** A clock the demo's maker moves, so that the past really was recorded in its order. */
export type DemoClock = { now: Date; forward(minutes: number): void };
export const clockAt = (iso: string): DemoClock => ({
  now: new Date(iso),
  forward(minutes) {
    this.now = new Date(this.now.getTime() + minutes * 60_000);
  },
});

type Student = { name: string; client: Client; code: string };
export type DayPlan = { classId: string; students: Student[]; instructor: Client; clock: DemoClock; overshootBy: string };

const grams = (massMg: number): string => String(massMg / 1000);

async function dress({ client, name, code }: Student, plan: DayPlan): Promise<void> {
  const me = await client.post<{ id: string }>('/api/join', { id: newId(plan.clock.now.getTime()), code, name });
  const view = await client.get<StationView>('/api/station');
  for (const item of view.card.content.gear) await client.post('/api/gear/confirm', { id: newId(plan.clock.now.getTime()), itemKey: item.key });
  await plan.instructor.post(`/api/seats/${me.id}/countersign`, { id: newId(plan.clock.now.getTime()) });
}

async function readingsOf(client: Client, cardId: string, step: CardStep, student: Student, plan: DayPlan): Promise<void> {
  const record = (entered: string, supersedesId: string | null) =>
    client.post<{ id: string }>(`/api/cards/${cardId}/readings`, { id: newId(plan.clock.now.getTime()), stepNo: step.no, entered, supersedesId });
  if (step.kind === 'temperature') {
    await record(String(Math.round((step.highC ?? 40) - 11)), null);
    return;
  }
  const target = step.targetMg ?? 0;
  // One student of the day pours too much fat at first, and puts it right.
  if (student.name === plan.overshootBy && step.lineKey === 'fat:olive') {
    const wrong = await record(grams((step.acceptHighMg ?? target) + 14_000), null);
    plan.clock.forward(1);
    await record(grams(target), wrong.id);
    return;
  }
  const reading = await record(grams(target), null);
  if (step.lineKey === 'naoh' || step.lineKey === 'koh')
    await plan.instructor.post(`/api/readings/${reading.id}/staff-check`, { id: newId(plan.clock.now.getTime()), entered: grams(target) });
}

async function work(student: Student, plan: DayPlan): Promise<void> {
  const { client } = student;
  const { card } = await client.get<StationView>('/api/station');
  for (const step of card.content.steps) {
    plan.clock.forward(1);
    if (step.kind === 'label') {
      await client.post('/api/jars', {
        id: newId(plan.clock.now.getTime()),
        cardId: card.id,
        mass: grams(Math.round(card.content.solutionMassMg / 1000) * 1000 - 2000),
      });
      continue;
    }
    if (step.kind === 'weigh' || step.kind === 'temperature') await readingsOf(client, card.id, step, student, plan);
    await client.post(`/api/cards/${card.id}/steps/${step.no}/done`);
  }
  await client.post('/api/seat/sign-out');
}

/** Plays a whole class: everybody joins, dresses, is signed off, follows the card, labels the jar and leaves. */
export async function playClass(plan: DayPlan): Promise<void> {
  for (const student of plan.students) await dress(student, plan);
  plan.clock.forward(5);
  for (const student of plan.students) await work(student, plan);
}
