export const NOTE_KINDS = [
  { value: 'near miss', label: 'A near miss: it could have hurt or damaged' },
  { value: 'incident', label: 'An incident: somebody was hurt, or something damaged' },
];
export const HARMS = [
  { value: 'eyes', label: 'Lye in an eye' },
  { value: 'skin', label: 'Lye on skin' },
  { value: 'lungs', label: 'Fumes or dust breathed in' },
  { value: 'first aid', label: 'First aid was given' },
  { value: 'medical help', label: 'A doctor, or an ambulance' },
  { value: 'spill', label: 'Something was spilt' },
  { value: 'damage', label: 'Something was damaged' },
] as const;
export const SIGNINGS = [
  { value: 'named', label: 'With my name' },
  { value: 'confidential', label: 'In confidence: only the owner and the manager can ask who, and each asking is recorded' },
];
export const SIGNED = { named: 'with a name', confidential: 'in confidence', anonymous: 'without a name' } as const;
