import { readFile } from 'node:fs/promises'
import path from 'node:path'
import { buildFolder } from '@/lib/platform/env'

/**
 * What answers for a page without a connection. Each build serves it under its own name for what it keeps, so that a
 * device takes the new files as soon as it can.
 */
export async function pageWorkerResponse(page: '/bench' | '/stall'): Promise<Response> {
  const source = await readFile(path.join(process.cwd(), 'lib/platform/page-worker.mjs'), 'utf8')
  const build = await readFile(path.join(process.cwd(), buildFolder(), 'BUILD_ID'), 'utf8')
  return new Response(source.replace('__BUILD__', build.trim()).replace('__PAGE__', page), {
    headers: { 'content-type': 'text/javascript; charset=utf-8', 'service-worker-allowed': page },
  })
}
