import path from 'node:path'
import { defineConfig } from 'vitest/config'
export default defineConfig({ resolve: { alias: { '@': path.resolve(import.meta.dirname) } }, test: { include: ['tests/browser/database-gone.test.ts'], testTimeout: 240_000 } })
