import type { ClassOut, Classes } from '@ashwater/contracts';
import type { Page } from '@playwright/test';
import { DEMO_SIGN_INS } from '../../../apps/api/src/demo/sign-ins.ts';
import { Student } from './student.ts';

/** Joins a station of the demo's published class as somebody new, by asking the API for its code first. */
export async function openDemoStation(page: Page, station: string, name: string): Promise<Student> {
  const { email, password } = DEMO_SIGN_INS.find(({ role }) => role === 'instructor')!;
  const { request } = page.context();
  await request.post('/api/sign-in', { data: { email, password } });
  const { classes } = (await (await request.get('/api/classes')).json()) as Classes;
  const evening = classes.find(({ title }) => title === 'Shaving soap evening')!;
  const { stations } = (await (await request.get(`/api/classes/${evening.id}`)).json()) as ClassOut;
  await page.context().clearCookies();
  const student = new Student(page, name);
  await student.join(stations.find((each) => each.name === station)!.joinCode);
  return student;
}
