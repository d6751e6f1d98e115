import type { BenchRun, BenchWho, RunStanding } from '@/lib/features/bench/schema'
import { type Asked, ask } from '../../offline/ask'

const has = (body: unknown, key: string) => typeof body === 'object' && body !== null && key in body

export function askWho(): Promise<Asked<BenchWho>> {
  return ask('/api/bench', (body) => (has(body, 'person') ? (body as BenchWho) : undefined))
}

export function askRun({ workspaceId, run }: { workspaceId: string; run: string }): Promise<Asked<BenchRun>> {
  return ask(`/api/bench/runs/${run}?workspace=${workspaceId}`, (body) =>
    has(body, 'standing') ? (body as BenchRun) : undefined,
  )
}

/** Null where nothing has happened at the clutch since what the device knows. */
export function askStanding(asked: {
  workspaceId: string
  run: string
  known: RunStanding | undefined
}): Promise<Asked<{ standing: RunStanding | null }>> {
  const { known } = asked
  const seen = known ? `&seen=${known.seen}&hanging=${known.hanging ?? 0}` : ''
  return ask(`/api/bench/runs/${asked.run}/standing?workspace=${asked.workspaceId}${seen}`, (body) =>
    has(body, 'standing') ? (body as { standing: RunStanding | null }) : undefined,
  )
}
