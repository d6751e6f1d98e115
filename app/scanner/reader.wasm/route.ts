import { existsSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import path from 'node:path'

export const dynamic = 'force-dynamic'

const READER = 'node_modules/zxing-wasm/dist/reader/zxing_reader.wasm'

/** What reads a code from a picture, served by the service itself: the library would fetch it from another host. */
export async function GET(): Promise<Response> {
  const bytes = await readFile(findReader(process.cwd()))
  return new Response(new Uint8Array(bytes), {
    headers: {
      'content-type': 'application/wasm',
      // Asked for with the version of the library, so it never changes under its address.
      'cache-control': 'public, max-age=31536000, immutable',
    },
  })
}

/** Packages stand beside the project, or beside a folder that holds it. */
function findReader(folder: string): string {
  const file = path.join(folder, READER)
  const above = path.dirname(folder)
  return existsSync(file) || above === folder ? file : findReader(above)
}
