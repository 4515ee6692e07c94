import { defineConfig } from 'vitest/config';

// Time zone, locale and seed are fixed here so that a test never depends on the machine.
process.env['TZ'] = 'UTC';
process.env['LC_ALL'] = 'C.UTF-8';

export default defineConfig({
  test: {
    include: ['{core,day,shell,scenarios,tools,docs}/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
    onConsoleLog: (log) => {
      throw new Error(`console output in a test: ${log}`);
    },
  },
});
