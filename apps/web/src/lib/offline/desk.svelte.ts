import { newId } from '../id.ts';
import type { Act, Deed } from './act.ts';
import { asItStands } from './stand.ts';
import { keepAct, keepSnapshot, keptSnapshot, outbox, removeActs } from './store.ts';
import type { Snapshot } from './store.ts';
import { sync } from './sync.ts';
import type { Synced } from './sync.ts';
import { wordsOf } from './words.ts';

const AGAIN_MS = 10_000;
const isoOf = (ms: number): string => new Date(ms).toISOString();

/** What the page without network works on: the kept card, the outbox, and what is known of the link. */
export class Desk {
  opened = $state(false);
  /** This browser keeps nothing (private mode, storage forbidden). */
  broken = $state(false);
  snapshot = $state.raw<Snapshot | null>(null);
  acts = $state.raw<Act[]>([]);
  link = $state<'looking' | Synced['end']>('looking');
  #now = $state(Date.now());
  /** The service's time as far as this device knows it, in ms since 1970. */
  readonly nowMs = $derived(this.#now + (this.snapshot?.aheadMs ?? 0));
  readonly own = $derived(this.acts.filter((act) => act.seatId === this.snapshot?.seatId));
  readonly view = $derived(this.snapshot && asItStands(this.snapshot.view, this.own, this.nowMs));
  readonly waiting = $derived(this.own.filter((act) => act.state === 'waiting'));
  readonly refused = $derived(this.own.filter((act) => act.state === 'refused'));
  /** Unsent acts of people who no longer hold this device. */
  readonly others = $derived(this.acts.filter((act) => act.state !== 'sent' && act.seatId !== this.snapshot?.seatId));

  async reload(): Promise<void> {
    [this.snapshot, this.acts] = await Promise.all([keptSnapshot(), outbox.all()]);
    this.#now = Date.now();
  }

  /** Stored first, shown next; sent when the link allows. */
  async write(deed: Deed): Promise<void> {
    const { snapshot } = this;
    if (!snapshot) return;
    const { seat, stationName, classId } = snapshot.view;
    const words = wordsOf(deed, snapshot.view);
    await keepAct({ id: newId(), seatId: seat.id, seatName: seat.name, stationName, classId, at: isoOf(this.nowMs), words, deed });
    await this.reload();
    void this.look();
  }

  async putAway(acts: readonly Act[]): Promise<void> {
    await removeActs(acts.map((act) => act.seq));
    await this.reload();
  }

  async sendAgain(act: Act): Promise<void> {
    await outbox.mark(act.seq, 'waiting', null);
    await this.reload();
    void this.look();
  }

  /** Tries the link once: sends what waits, reads how things stand. */
  async look(): Promise<void> {
    const { end } = await sync();
    await this.reload();
    if (end === 'no-link' && this.snapshot && this.snapshot.awaySince === null) {
      await keepSnapshot({ ...this.snapshot, awaySince: isoOf(this.nowMs) });
      await this.reload();
    }
    this.link = end;
  }

  /** Opens what is kept and goes on trying: at once, when the device says it is back, and every ten seconds in sight. */
  start(): () => void {
    const look = () => void this.look().catch(() => (this.broken = true));
    this.reload()
      .then(() => ((this.opened = true), look()))
      .catch(() => ((this.broken = true), (this.opened = true)));
    const timer = setInterval(() => {
      this.#now = Date.now();
      if (document.visibilityState === 'visible') look();
    }, AGAIN_MS);
    window.addEventListener('online', look);
    document.addEventListener('visibilitychange', look);
    return () => {
      clearInterval(timer);
      window.removeEventListener('online', look);
      document.removeEventListener('visibilitychange', look);
    };
  }
}
