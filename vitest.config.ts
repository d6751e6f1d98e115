import path from 'node:path'
import { defineConfig } from 'vitest/config'

process.env.TZ = 'Asia/Kathmandu'

export default defineConfig({
  resolve: { alias: { '@': path.resolve(import.meta.dirname) } },
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**', 'node_modules/**'],
    setupFiles: ['tests/support/seed.ts'],
    testTimeout: process.env.TEST_LONG ? 1_800_000 : 120_000, // a long run takes ten times as many rounds
    hookTimeout: 180_000,
    maxWorkers: 2,
    retry: 0,
  },
})
