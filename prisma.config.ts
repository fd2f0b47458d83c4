import { defineConfig } from 'prisma/config';

// The URL may be missing: `prisma generate` needs none, and migrations go through infra/migrate.ts.
export default defineConfig({
  schema: 'prisma/schema.prisma',
  datasource: { url: process.env.DATABASE_URL ?? '' },
});
