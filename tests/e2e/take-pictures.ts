/*
 * Takes the two pictures of the README from a running demo:
 *   npm start                                   (in another terminal)
 *   node_modules/.bin/node tests/e2e/take-pictures.ts http://127.0.0.1:4310
 */
import { chromium } from '@playwright/test';
import { findChromium } from '../../infra/testing/chromium.ts';
import { openDemoStation } from './people/demo-class.ts';
import { Instructor } from './people/instructor.ts';
import { PHONE, signIn } from './people/visit.ts';

const baseURL = process.argv[2] ?? 'http://127.0.0.1:4310';
const browser = await chromium.launch({ executablePath: findChromium(), args: ['--no-sandbox', '--disable-gpu'] });

const desk = await (await browser.newContext({ baseURL, viewport: { width: 1280, height: 900 } })).newPage();
await signIn(desk, 'instructor');
await new Instructor(desk).writeRecipe({
  title: 'Sunday bar',
  fats: [
    ['Olive oil', '70'],
    ['Coconut oil', '30'],
  ],
  superfat: '7',
  concentration: '30',
  ice: '75',
});
await desk.getByRole('heading', { level: 1 }).click();
await desk.screenshot({ path: 'docs/recipe-editor.png' });

const phone = await (await browser.newContext({ baseURL, viewport: PHONE, deviceScaleFactor: 2 })).newPage();
const student = await openDemoStation(phone, 'Station 3', 'Rosa');
await student.openStep();
if (!(await phone.locator('input[name=entered]').isVisible())) await student.next();
await phone.screenshot({ path: 'docs/weigh-step.png' });
await browser.close();
