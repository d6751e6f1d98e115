import { once } from 'node:events'
import { createWriteStream } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import os from 'node:os'
import path from 'node:path'
import { PassThrough, Readable, Transform, type Writable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type { ReadableStream } from 'node:stream/web'
import { AppError } from '@/lib/platform/errors'
import { log } from '@/lib/platform/log'

/**
 * An answer that is sent while it is still being written. What goes wrong before the first byte is thrown as ever;
 * afterwards the line is broken off, so that nobody takes half a file for a whole one.
 */
export async function zipResponse(name: string, write: (out: Writable) => Promise<void>): Promise<Response> {
  const out = new PassThrough()
  const writing = write(out)
  writing.catch((error: Error) => out.destroy(error))
  out.on('error', (error) => log.warn({ error: error.message, name }, 'a file was broken off'))
  await Promise.race([once(out, 'readable'), writing])
  return new Response(Readable.toWeb(out) as BodyInit, {
    headers: {
      'content-type': 'application/zip',
      'content-disposition': `attachment; filename="${name.replace(/[^\w.-]+/g, '-')}"`,
      'cache-control': 'private, no-store',
    },
  })
}

/**
 * Keeps a sent file on the disk while the work looks at it, and never longer.
 * @throws AppError too-large when more is sent than may be
 */
export async function withSentFile<T>(
  request: Request,
  most: number,
  work: (file: string) => Promise<T>,
): Promise<T> {
  if (Number(request.headers.get('content-length') ?? 0) > most) throw tooLarge(most)
  const folder = await mkdtemp(path.join(os.tmpdir(), 'oothecary-sent-'))
  try {
    const file = path.join(folder, 'file')
    const source = request.body ? Readable.fromWeb(request.body as ReadableStream) : Readable.from([])
    await pipeline(source, limit(most), createWriteStream(file, { mode: 0o600 }))
    return await work(file)
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

function limit(most: number): Transform {
  let sent = 0
  return new Transform({
    transform(piece, _encoding, done) {
      sent += piece.length
      if (sent > most) done(tooLarge(most))
      else done(null, piece)
    },
  })
}

const tooLarge = (most: number) =>
  new AppError('too-large', `This file is larger than ${Math.floor(most / 1024 / 1024)} MB.`)
