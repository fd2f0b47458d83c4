import type { ClassOut, FloorView, Recipes } from '@ashwater/contracts';
import { request } from '@playwright/test';
import type { APIRequestContext } from '@playwright/test';
import { DEMO_SIGN_INS } from '../../../apps/api/src/demo/sign-ins.ts';
import { newId } from '../../../apps/api/src/ids.ts';

const SET_UP = { scaleStep: '1 g', scaleCapacity: '5000 g', mouldName: 'Loaf', mouldVolumeMl: '1100' };

/** A class of eight stations and the instructor who holds it, over HTTP: looks at everybody's gear. */
export class ClassOfEight {
  readonly classId = newId();
  readonly mark = this.classId.slice(-6);
  readonly title = `Full house ${this.mark}`;
  stations: ClassOut['stations'] = [];
  private readonly api: APIRequestContext;
  private holding = true;

  private constructor(api: APIRequestContext) {
    this.api = api;
  }

  static async prepare(service: string): Promise<ClassOfEight> {
    const held = new ClassOfEight(await request.newContext({ baseURL: service }));
    const { email, password } = DEMO_SIGN_INS.find(({ role }) => role === 'instructor')!;
    await held.post('/api/sign-in', { email, password });
    const { recipes } = await held.get<Recipes>('/api/recipes');
    const [version] = recipes.find(({ title }) => title.startsWith('First bar'))!.versions;
    const stations = Array.from({ length: 8 }, (_, i) => ({ id: newId(), stationId: newId(), name: `Eight ${i + 1} ${held.mark}` }));
    for (const { stationId, name } of stations) await held.post('/api/stations', { id: stationId, name, ...SET_UP });
    await held.post('/api/classes', {
      id: held.classId,
      title: held.title,
      startsAt: new Date().toISOString(),
      room: 'Hall',
      recipeVersionId: version!.id,
      naohLotId: null,
      kohLotId: null,
      stations: stations.map(({ id, stationId }) => ({ id, stationId, ...SET_UP })),
    });
    await held.post(`/api/classes/${held.classId}/publish`);
    held.stations = (await held.get<ClassOut>(`/api/classes/${held.classId}`)).stations;
    return held;
  }

  async get<T>(path: string): Promise<T> {
    return (await (await this.api.get(path)).json()) as T;
  }
  async post(path: string, data: object = {}): Promise<number> {
    const answer = await this.api.post(path, { data, headers: { 'idempotency-key': newId() } });
    if (!answer.ok() && answer.status() !== 409) throw new Error(`POST ${path}: ${answer.status()} ${await answer.text()}`);
    return answer.status();
  }
  floor(): Promise<FloorView> {
    return this.get<FloorView>(`/api/classes/${this.classId}/floor`);
  }

  /** Walks the room until told to stop: signs whoever is dressed and not among `notYet`; what goes astray waits for the page. */
  async walk(notYet: ReadonlySet<string>): Promise<void> {
    while (this.holding) {
      for (const station of (await this.floor()).stations) {
        for (const seat of station.seats)
          if (seat.gear.status === 'waiting' && !seat.signedOut && !notYet.has(seat.name))
            await this.post(`/api/seats/${seat.id}/countersign`, { id: newId() });
      }
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
  }
  goHome(): void {
    this.holding = false;
  }
}
