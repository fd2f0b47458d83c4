import type { Role } from '@ashwater/contracts';

export type NavItem = { href: string; label: string; roles: readonly Role[] };

const ALL: readonly Role[] = ['owner', 'manager', 'instructor', 'assistant'];
const STOCK: readonly Role[] = ['owner', 'manager'];
/** Those who may write notes but not read them. */
const FLOOR: readonly Role[] = ['instructor', 'assistant'];

/** The studio's sections in the order of the work: recipe, class, cabinet with its jars, notes, people. */
export const NAV: readonly NavItem[] = [
  { href: '/class', label: 'Classes', roles: ALL },
  { href: '/studio/recipes', label: 'Recipes', roles: ALL },
  { href: '/studio/fats', label: 'Fats', roles: ALL },
  { href: '/studio/stations', label: 'Stations', roles: ALL },
  { href: '/studio/cabinet', label: 'Cabinet', roles: ALL },
  { href: '/studio/notes', label: 'Notes', roles: STOCK },
  { href: '/studio/notes/new', label: 'Write a note', roles: FLOOR },
  { href: '/studio/notes/follow-ups', label: 'Follow-ups', roles: FLOOR },
  { href: '/studio/people', label: 'People', roles: STOCK },
  { href: '/studio/audit', label: 'Audit', roles: STOCK },
];
