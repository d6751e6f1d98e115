import http from 'node:http'

export type LoadResult = { perSecond: number; p50Ms: number; p99Ms: number }
export type Load = { url: string; headers?: Record<string, string>; connections: number; seconds: number }

/** Asks one address over and over on a fixed number of connections; every answer has to be a 200. */
export async function runLoad({ url, headers = {}, connections, seconds }: Load): Promise<LoadResult> {
  const agent = new http.Agent({ keepAlive: true, maxSockets: connections })
  const times: number[] = []
  const end = performance.now() + seconds * 1000
  const began = performance.now()
  const worker = async () => {
    while (performance.now() < end) {
      const start = performance.now()
      await askOnce(url, { agent, headers })
      times.push(performance.now() - start)
    }
  }
  await Promise.all(Array.from({ length: connections }, worker))
  const took = (performance.now() - began) / 1000
  agent.destroy()
  const sorted = times.toSorted((a, b) => a - b)
  const at = (share: number) =>
    sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN
  return { perSecond: times.length / took, p50Ms: at(0.5), p99Ms: at(0.99) }
}

function askOnce(url: string, options: http.RequestOptions): Promise<void> {
  return new Promise((resolve, reject) => {
    const request = http.get(url, options, (response) => {
      response.on('error', reject)
      response.on('data', () => {})
      response.on('end', () => {
        if (response.statusCode === 200) return resolve()
        reject(new Error(`${url} answered ${response.statusCode}`))
      })
    })
    request.on('error', reject)
  })
}

export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b)
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN
}
