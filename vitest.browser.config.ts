import path from 'node:path'
import { defineConfig } from 'vitest/config'

process.env.TZ = 'Asia/Kathmandu'

// Journeys share one machine with the server and the browser: one file at a time, none tried twice.
export default defineConfig({
  resolve: { alias: { '@': path.resolve(import.meta.dirname) } },
  test: {
    include: ['tests/browser/**/*.test.ts'],
    testTimeout: 180_000,
    hookTimeout: 180_000,
    fileParallelism: false,
    retry: 0,
    // How long anything takes is no question here: a busy machine answers a form in more than the usual second.
    expect: { poll: { timeout: 15_000 } },
  },
})
