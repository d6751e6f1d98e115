import path from 'node:path'
import { defineConfig } from 'vitest/config'

process.env.TZ = 'Asia/Kathmandu'

export default defineConfig({
  resolve: { alias: { '@': path.resolve(import.meta.dirname) } },
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**', 'node_modules/**'],
    setupFiles: ['tests/support/seed.ts'],
    testTimeout: 120_000,
    hookTimeout: 180_000,
    maxWorkers: 2,
    retry: 0,
  },
})
