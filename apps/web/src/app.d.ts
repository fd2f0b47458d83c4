import type { Me } from '@ashwater/contracts';

declare global {
  namespace App {
    interface Error {
      status: number;
      message: string;
      /** What happened this time, in a sentence. */
      detail?: string;
      /** The problem code of the API, e.g. `room-stopped`. */
      code?: string;
    }
    interface Locals {
      staff: Extract<Me, { kind: 'staff' }> | null;
      seat: Extract<Me, { kind: 'seat' }> | null;
    }
  }
}
