import { runMigrateCommand } from './migrate/command.ts';

export { diffFromDatabase, diffFromEmpty, migrate } from './migrate/migrations.ts';
export { prepareRoles } from './migrate/roles.ts';

if (import.meta.main) await runMigrateCommand(process.argv.slice(2));
