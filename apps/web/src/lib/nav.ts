import type { Role } from '@ashwater/contracts';

export type NavItem = { href: string; label: string; roles: readonly Role[] };

const ALL: readonly Role[] = ['owner', 'manager', 'instructor', 'assistant'];
const STOCK: readonly Role[] = ['owner', 'manager'];

/** The studio's sections in the order of the work: recipe, class, cabinet, jars, notes, people. */
export const NAV: readonly NavItem[] = [
  { href: '/studio/classes', label: 'Classes', roles: ALL },
  { href: '/studio/recipes', label: 'Recipes', roles: ALL },
  { href: '/studio/stations', label: 'Stations', roles: ALL },
  { href: '/studio/cabinet', label: 'Cabinet', roles: ALL },
  { href: '/studio/jars', label: 'Jars', roles: ALL },
  { href: '/studio/notes', label: 'Notes', roles: STOCK },
  { href: '/studio/people', label: 'People', roles: STOCK },
];
