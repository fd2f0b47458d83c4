import type { Role } from '@ashwater/contracts';

/* The API decides; pages only leave out what it would refuse. */
const PLANNERS: readonly Role[] = ['owner', 'instructor'];
const BENCHES: readonly Role[] = ['owner', 'instructor', 'manager'];

/** Writes recipes, prepares and publishes classes, clears a stopped room. */
export const mayPlan = (role: Role | undefined): boolean => role !== undefined && PLANNERS.includes(role);
export const mayAddStations = (role: Role | undefined): boolean => role !== undefined && BENCHES.includes(role);
