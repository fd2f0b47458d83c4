import type { LayoutServerLoad } from './$types';

export const load: LayoutServerLoad = ({ locals, url }) => {
  // Reading the path makes this run on every navigation: who is asked for depends on it.
  const onStation = url.pathname === '/station' || url.pathname.startsWith('/station/');
  const { staff, seat } = locals;
  const studio = (onStation ? seat?.studio : (staff?.studio ?? seat?.studio)) ?? null;
  return {
    staff: staff && { name: staff.name, role: staff.role },
    studioName: studio?.name ?? 'Ashwater',
    zone: studio?.timeZone ?? 'UTC',
    emergencyPhone: studio?.emergencyPhone ?? null,
    isDemo: studio?.isDemo ?? false,
  };
};
