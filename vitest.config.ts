import os from 'node:os'
import path from 'node:path'
import { defineConfig } from 'vitest/config'

/** Every test project of the house; `npm test` runs them all (tests/run.ts). */
const project = (name: string, include: string[], extra: Record<string, unknown> = {}) => ({
  extends: true as const,
  test: { name, include, ...extra },
})

/** `npm run test:long` runs twenty times as many cases. */
const patience = process.env.LONG_TESTS ? 20 : 1

/** A test that hangs is to end; one on a machine that is ten times slower, with others beside it, is to pass. */
const SLOWEST_MS = 240_000

const SAME_CASES = ['tests/same-cases.ts']

/** Files that put something in the place of what the framework has: a module that is shared would have it already. */
const MOCKING = ['tests/people/**/*.test.ts', 'tests/jobs/starter.test.ts']

export default defineConfig({
  resolve: { alias: { '@': path.resolve(import.meta.dirname) } },
  test: {
    // A file a core, and on two cores two: left to itself the runner keeps one free.
    maxWorkers: os.availableParallelism(),
    hookTimeout: SLOWEST_MS,
    // What is asked again and again until it holds, on that machine too.
    expect: { poll: { timeout: SLOWEST_MS / 4 } },
    coverage: { provider: 'v8', include: ['lib/**'] },
    projects: [
      project(
        'unit',
        [
          'tests/{log,units,model,records,scoring,decisions,replay,intake,commands,app,seed,simulation}/**/*.test.ts',
        ],
        // Pure functions: one load of the modules serves all files of a worker.
        { testTimeout: patience * SLOWEST_MS, isolate: false, setupFiles: SAME_CASES },
      ),
      project('reference', ['tests/reference/**/*.test.ts'], {
        setupFiles: SAME_CASES,
        testTimeout: patience * SLOWEST_MS,
      }),
      project('database', ['tests/{store,jobs}/**/*.test.ts'], {
        exclude: MOCKING,
        globalSetup: ['tests/store/global.ts'],
        pool: 'forks',
        isolate: false,
        setupFiles: [...SAME_CASES, 'tests/store/own-process.ts'],
        testTimeout: SLOWEST_MS,
      }),
      project('people', MOCKING, {
        globalSetup: ['tests/store/global.ts'],
        setupFiles: SAME_CASES,
        pool: 'forks',
        testTimeout: SLOWEST_MS,
      }),
      project('api', ['tests/api/**/*.test.ts'], {
        globalSetup: ['tests/store/global.ts'],
        pool: 'forks',
        isolate: false,
        setupFiles: [...SAME_CASES, 'tests/store/own-process.ts'],
        testTimeout: patience * SLOWEST_MS,
      }),
      project('browser', ['tests/browser/**/*.test.ts'], {
        globalSetup: ['tests/browser/global.ts'],
        isolate: false,
        testTimeout: SLOWEST_MS,
      }),
    ],
  },
})
