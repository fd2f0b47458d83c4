import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { NodePostgresAdapter } from '@lucia-auth/adapter-postgresql';
import { Lucia, TimeSpan } from 'lucia';
import type { Studio, Seat, Staff } from '../../actor.ts';
import type { Tx } from '../../plugins/database/database.ts';
import * as store from './store.ts';

/*
 * Staff sessions. Lucia 3 is no longer maintained, so this module owns the hardening around it:
 * the cookie carries a random secret and the database only its SHA-256; besides the sliding life there is an absolute end;
 * a new secret at every sign-in; sessions end when a password or role changes.
 * The cookie is `<studio id>.<secret>`: the studio must be known before row-level security lets the session be read.
 */
export const IDLE_DAYS = 7;
export const ABSOLUTE_DAYS = 30;
const DAY_MS = 86_400_000;

export const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');
const newSecret = (): string => randomBytes(32).toString('base64url');

function luciaOn(tx: Tx) {
  // The adapter wants something with pg's query(); the tenant transaction is that, and row-level security then holds for Lucia too.
  // It asks two questions at once, and one connection takes them one after the other.
  let last: Promise<unknown> = Promise.resolve();
  const client = {
    query: (text: string, values?: unknown[]) => {
      const answer = last.then(async () => ({ rows: await tx.rows<object>(text, values ?? []) }));
      last = answer.catch(() => undefined);
      return answer;
    },
  };
  return new Lucia(new NodePostgresAdapter(client as never, { user: 'account', session: 'session' }), {
    sessionExpiresIn: new TimeSpan(IDLE_DAYS, 'd'),
    getSessionAttributes: (row) => row as { studio_id: string; ends_at: Date },
    // a whitelist: the password hash never leaves the database through a session
    getUserAttributes: (row) => {
      const { name, email, role, disabled_at } = row as { name: string; email: string; role: Staff['role']; disabled_at: Date | null };
      return { name, email, role, disabledAt: disabled_at };
    },
  });
}

export function splitToken(cookie: string | undefined): { studioId: string; secret: string } | undefined {
  const match = /^([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})\.([A-Za-z0-9_-]{43})$/.exec(cookie ?? '');
  return match ? { studioId: match[1]!, secret: match[2]! } : undefined;
}

/** Starts a session and gives the cookie's value, the only place where the secret is ever whole. */
export async function startSession(tx: Tx, studioId: string, accountId: string, now: Date): Promise<string> {
  const secret = newSecret();
  await luciaOn(tx).createSession(accountId, { studio_id: studioId, created_at: now, ends_at: new Date(now.getTime() + ABSOLUTE_DAYS * DAY_MS) } as never, {
    sessionId: sha256(secret),
  });
  return `${studioId}.${secret}`;
}

export async function readSession(tx: Tx, studioId: string, secret: string, now: Date): Promise<Staff | undefined> {
  const lucia = luciaOn(tx);
  const { session, user } = await lucia.validateSession(sha256(secret));
  if (!session || !user) return undefined;
  const attributes = session as unknown as { id: string; ends_at: Date };
  const person = user as unknown as { id: string; name: string; email: string; role: Staff['role']; disabledAt: Date | null };
  if (attributes.ends_at <= now || person.disabledAt !== null) {
    await lucia.invalidateSession(session.id);
    return undefined;
  }
  return { kind: 'staff', studioId, id: person.id, name: person.name, email: person.email, role: person.role, sessionId: session.id };
}

export const endSession = (tx: Tx, sessionId: string): Promise<void> => luciaOn(tx).invalidateSession(sessionId);

/** A seat's token: `<studio id>.<secret>`, checked against the hash of the seat's row. */
export function newSeatToken(studioId: string): { cookie: string; hash: string } {
  const secret = newSecret();
  return { cookie: `${studioId}.${secret}`, hash: sha256(secret) };
}

export async function readSeat(tx: Tx, studioId: string, secret: string): Promise<Seat | undefined> {
  const hash = sha256(secret);
  const row = await store.seatByTokenHash(tx, studioId, hash);
  if (!row || !timingSafeEqual(Buffer.from(row.token_hash), Buffer.from(hash))) return undefined;
  return {
    kind: 'seat',
    studioId,
    id: row.id,
    name: row.name,
    classId: row.class_id,
    classStationId: row.class_station_id,
    signedOut: row.signed_out_at !== null,
  };
}

export async function readStudio(tx: Tx, studioId: string): Promise<Studio | undefined> {
  return store.studio(tx, studioId);
}
