import { defineConfig } from 'prisma/config'

// The address is only needed by commands that talk to a database; `generate` and `validate` do not.
export default defineConfig({
  schema: 'prisma/schema',
  migrations: { path: 'prisma/migrations' },
  datasource: { url: process.env.DATABASE_URL ?? 'postgresql://none@localhost/none' },
})
