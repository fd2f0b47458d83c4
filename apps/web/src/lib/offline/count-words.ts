/** "1 thing", "3 things". */
export const count = (n: number): string => `${n} ${n === 1 ? 'thing' : 'things'}`;
