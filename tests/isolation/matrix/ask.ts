import { randomUUID } from 'node:crypto'
import type { Caller } from './callers'

export type Said = { status: number; location: string; text: string }

/** A request as a browser or a till sends it; redirects are looked at, not followed. */
export async function ask(address: string, caller: Caller, init: RequestInit = {}): Promise<Said> {
  const headers = new Headers(init.headers)
  if (caller.cookie) headers.set('cookie', caller.cookie)
  if (caller.token && address.includes('/api/v1/')) headers.set('authorization', `Bearer ${caller.token}`)
  const response = await fetch(address, { ...init, headers, redirect: 'manual' })
  const location = response.headers.get('location') ?? ''
  // What is asked for as a stream is sent to an address of its own first, so that no cache mixes the two.
  if (headers.has('rsc') && location.includes('_rsc') && !address.includes('_rsc'))
    return ask(new URL(location, address).href, caller, init)
  const isPdf = response.headers.get('content-type')?.includes('pdf')
  const text = isPdf ? await readPdf(await response.arrayBuffer()) : await response.text()
  return { status: response.status, location, text }
}

async function readPdf(bytes: ArrayBuffer): Promise<string> {
  const { getDocument } = await import('pdfjs-dist/legacy/build/pdf.mjs')
  const document = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise
  const pages: string[] = []
  for (let number = 1; number <= document.numPages; number++) {
    const { items } = await (await document.getPage(number)).getTextContent()
    pages.push(items.map((item) => ('str' in item ? item.str : '')).join(' '))
  }
  await document.destroy()
  return pages.join('\n')
}

export type ActionCall = { id: string; page: string; workspace: string; input: unknown }
export type ActionSaid = { status: string; code?: string; text: string }

/** A server action as the page that offers it sends it. */
export async function act(origin: string, caller: Caller, call: ActionCall): Promise<ActionSaid> {
  const { id, page, workspace, input } = call
  const { text } = await ask(`${origin}${page}`, caller, {
    method: 'POST',
    headers: {
      'next-action': id,
      'content-type': 'text/plain;charset=UTF-8',
      accept: 'text/x-component',
      origin,
    },
    body: JSON.stringify([{ workspace, operationId: randomUUID(), input }]),
  })
  // The answer is a number and the value as JSON up to the end of its line; a long text, as a picture is, comes before
  // it without a line's end of its own.
  const line = /(?:^|>)\w+:(\{"status":.*)$/m.exec(text)?.[1]
  if (!line) return { status: 'unreadable', text: text.slice(0, 300) }
  const { status, code } = JSON.parse(line)
  return { status, code, text }
}
