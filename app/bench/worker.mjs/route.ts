import { readFile } from 'node:fs/promises'
import path from 'node:path'
import { buildFolder } from '@/lib/platform/env'

export const dynamic = 'force-dynamic'

/**
 * What answers for the bench without a connection. Each build serves it under its own name for what it keeps, so that
 * a device takes the new files as soon as it can.
 */
export async function GET(): Promise<Response> {
  const source = await readFile(path.join(process.cwd(), 'app/bench/worker.mjs/source.mjs'), 'utf8')
  const build = await readFile(path.join(process.cwd(), buildFolder(), 'BUILD_ID'), 'utf8')
  return new Response(source.replace('__BUILD__', build.trim()), {
    headers: { 'content-type': 'text/javascript; charset=utf-8', 'service-worker-allowed': '/bench' },
  })
}
