/** Time arrives as a value; only the process and the demo's maker choose where it comes from. */
export type Clock = () => Date;
export const systemClock: Clock = () => new Date();
