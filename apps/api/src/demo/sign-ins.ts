/** The demo's people: invented, like everything in the demo studio. Printed on the console at the start. */
export const DEMO_SIGN_INS = [
  { role: 'owner', name: 'Ines Morvay', email: 'ines@larkmoor.example', password: 'calm kettle on the hill' },
  { role: 'instructor', name: 'Tomas Arkwell', email: 'tomas@larkmoor.example', password: 'lye into liquid slowly' },
  { role: 'manager', name: 'Berit Solane', email: 'berit@larkmoor.example', password: 'every gram in the book' },
] as const;
