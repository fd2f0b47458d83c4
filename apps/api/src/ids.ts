import { randomBytes, randomInt } from 'node:crypto';

/** A UUIDv7 (RFC 9562 5.7): 48 bits of milliseconds, then random, so that keys grow with time. */
export function newId(nowMs: number = Date.now()): string {
  const bytes = randomBytes(16);
  bytes.writeUIntBE(nowMs, 0, 6);
  bytes[6] = (bytes[6]! & 0x0f) | 0x70;
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  const hex = bytes.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

// No 0 O 1 I L U V 5 S 2 Z 8 B: letters and digits that wet goggles confuse.
export const CLEAR_SIGNS = 'ACDEFGHJKMNPQRTWXY34679';

/** A code people type: only signs that look like no other. Six of them give 1.5e8 codes. */
export function newCode(length = 6): string {
  return Array.from({ length }, () => CLEAR_SIGNS[randomInt(CLEAR_SIGNS.length)]).join('');
}

/** What a person typed as a code: case, spaces and hyphens do not matter. */
export const normalCode = (typed: string): string => typed.toUpperCase().replace(/[^A-Z0-9]/g, '');
