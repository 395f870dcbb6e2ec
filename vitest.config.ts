import { defineConfig } from 'vitest/config'

/**
 * Two projects. "pure" shares its workers: nothing there starts a process or changes a global.
 * "process" forks one worker a file: servers, browsers and SQLite files live there.
 */
export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'pure',
          include: ['tests/{machines,labels,contract}/**/*.test.ts', 'tests/*.test.ts'],
          pool: 'threads',
          isolate: false,
          testTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'process',
          include: ['tests/{server,kiosk,browser}/**/*.test.ts'],
          pool: 'forks',
          testTimeout: 120_000,
          hookTimeout: 60_000,
        },
      },
    ],
  },
})
