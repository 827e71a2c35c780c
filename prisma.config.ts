import path from 'node:path'
import { defineConfig } from 'prisma/config'

// Prisma's own engine is a download from a server of its own; ours answers the same protocol from packages
// that `npm ci` has already brought, so that every Prisma command works without another network.
process.env.PRISMA_SCHEMA_ENGINE_BINARY ??= path.resolve(import.meta.dirname, 'prisma/schema-engine.mjs')

export default defineConfig({
  schema: 'prisma/schema.prisma',
  migrations: { path: 'prisma/migrations' },
  datasource: { url: process.env.DATABASE_URL ?? 'postgresql://nobody@127.0.0.1:1/none' },
})
