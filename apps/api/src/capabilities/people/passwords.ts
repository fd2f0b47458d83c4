import { hash, verify } from '@node-rs/argon2';
import { inputRefused } from '../../problems/domain-problem.ts';

// OWASP password storage cheat sheet: argon2id with m = 19 MiB, t = 2, p = 1.
const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };
/** NIST SP 800-63B-4: at least 15 characters where the password is the only factor; no rules of composition. */
export const PASSWORD_MIN = 15;

// Every hash holds 19 MiB for tens of milliseconds; a flood of sign-ins must not take the class's cards down with it.
const HASHES_AT_ONCE = 2;
const waiting: (() => void)[] = [];
let running = 0;

async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  // Asked again after waking: another may have come in between.
  while (running >= HASHES_AT_ONCE) await new Promise<void>((go) => waiting.push(go));
  running += 1;
  try {
    return await work();
  } finally {
    running -= 1;
    waiting.shift()?.();
  }
}

// Passwords of at least 15 characters that head published lists of leaked ones, from memory; plus what people here would think of.
const COMMON = [
  '123456789012345',
  '1234567890123456',
  'passwordpassword',
  'password12345678',
  'qwertyuiopasdfghjkl',
  'qwertyuiopasdfg',
  '111111111111111',
  'aaaaaaaaaaaaaaa',
  'iloveyouiloveyou',
  'abcdefghijklmnopqrstuvwxyz',
  'letmeinletmeinletmein',
  'correcthorsebatterystaple',
  'correct horse battery staple',
  'ashwaterashwater',
  'sodiumhydroxide',
  'potassiumhydroxide',
  'soapsoapsoapsoap',
];

/** Refuses what NIST SP 800-63B-4 refuses: too short, or known to be common. Throws a DomainProblem for the field. */
export function checkPassword(password: string, pointer: string): void {
  if ([...password].length < PASSWORD_MIN) throw inputRefused(pointer, `Use at least ${PASSWORD_MIN} characters; several words in a row are fine.`);
  if (COMMON.includes(password.toLowerCase()) || new Set(password).size < 4)
    throw inputRefused(pointer, 'This password is easily guessed. Choose several unrelated words.');
}

export const hashPassword = (password: string): Promise<string> => inTurn(() => hash(password.normalize('NFKC'), COST));
export const verifyPassword = (stored: string, password: string): Promise<boolean> => inTurn(() => verify(stored, password.normalize('NFKC')));

// Unknown addresses cost as much time as known ones, so that the answer's time tells nothing.
let dummy: Promise<string> | undefined;
export async function verifyNobody(password: string): Promise<false> {
  dummy ??= hashPassword('nobody has this password');
  await verifyPassword(await dummy, password);
  return false;
}
