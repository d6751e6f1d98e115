import http from 'node:http'

export type Told = { status: number; tookMs: number; atMs: number }
export type OpenLoad = { url: string; headers: Record<string, string>; perSecond: number; seconds: number }

/** Sends at a fixed pace whether or not it is answered, as customers do who do not know of each other. */
export async function runOpenLoad({ url, headers, perSecond, seconds }: OpenLoad): Promise<Told[]> {
  const agent = new http.Agent({ keepAlive: true, maxSockets: 2000 })
  const began = performance.now()
  const asked: Promise<Told>[] = []
  const total = Math.round(perSecond * seconds)
  for (let number = 0; number < total; number++) {
    const due = began + (number * 1000) / perSecond
    const wait = due - performance.now()
    if (wait > 1) await new Promise((resolve) => setTimeout(resolve, wait))
    asked.push(askOnce(url, { agent, headers, began }))
  }
  const told = await Promise.all(asked)
  agent.destroy()
  return told
}

type Asking = { agent: http.Agent; headers: Record<string, string>; began: number }

/** Status 0 is a broken line. */
function askOnce(url: string, { agent, headers, began }: Asking): Promise<Told> {
  const start = performance.now()
  const told = (status: number) => ({ status, tookMs: performance.now() - start, atMs: start - began })
  return new Promise((resolve) => {
    const request = http.get(url, { agent, headers }, (response) => {
      response.on('data', () => {})
      response.on('end', () => resolve(told(response.statusCode ?? 0)))
      response.on('error', () => resolve(told(0)))
    })
    request.on('error', () => resolve(told(0)))
  })
}

/** The value below which the given share lies. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN
}
