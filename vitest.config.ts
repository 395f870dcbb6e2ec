import { defineConfig } from 'vitest/config'

/** It starts the linter, over a folder of its own. */
const LINT = 'tests/machines/rules/lint.test.ts'

const SEED = 'tests/support/randomSeed.ts'

/**
 * Two projects. "pure" shares its workers: nothing there starts a process or changes a global.
 * "process" forks one worker a file: servers, browsers and SQLite files live there.
 */
export default defineConfig({
  test: {
    // Half of the time a test waits for a browser or a process: two files at once, also on two cores.
    maxWorkers: 2,
    projects: [
      {
        test: {
          name: 'pure',
          include: ['tests/{machines,labels,contract}/**/*.test.ts', 'tests/*.test.ts'],
          exclude: [LINT],
          setupFiles: SEED,
          pool: 'threads',
          isolate: false,
          testTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'process',
          include: ['tests/{server,kiosk,browser}/**/*.test.ts', LINT],
          setupFiles: SEED,
          globalSetup: ['tests/support/browserSetup.ts', 'tests/support/programSetup.ts'],
          pool: 'forks',
          // A page under load may need a while to show or tell what is waited for.
          expect: { poll: { timeout: 60_000 } },
          testTimeout: 240_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
})
