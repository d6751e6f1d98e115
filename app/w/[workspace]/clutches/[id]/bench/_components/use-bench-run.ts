'use client'

import { useState } from 'react'
import { createOperationId, type Entry } from '@/components/bench/queue/entry'
import { useBenchQueue } from '@/components/bench/queue/use-bench-queue'
import { formatCode } from '@/lib/domain/label/code'
import {
  type BenchOpening,
  type BenchTap,
  benchStanding,
  missingAnimals,
} from '@/lib/domain/separation/bench-run'

export type BenchRunProps = {
  workspace: string
  workspaceId: string
  personId: string
  run: {
    id: string
    on: string
    planned: number
    firstNumber: number
    containerKindId: string
    isFinished: boolean
  }
  clutch: { id: string; label: string; scientificName: string }
  kinds: { id: string; name: string }[]
  /** As printed, for the numbers the run has set aside. */
  labels: string[]
  opening: BenchOpening
  moults: number
  deadline: string
}

type NewTap = Omit<BenchTap, 'id'> & { payload?: Record<string, unknown> }

/** One run on this device: what stands on the screen, and what each touch does. */
export function useBenchRun(props: BenchRunProps) {
  const { run, personId, workspaceId, moults, kinds } = props
  const { queue, state } = useBenchQueue(personId)
  const [kindId, setKindId] = useState(run.containerKindId)
  const entries = (state.entries ?? []).filter((entry) => entry.run === run.id)
  const opening = entries[0]?.opening ?? props.opening
  const standing = benchStanding(
    opening,
    entries.map(({ tap }) => tap),
  )
  const refused = entries.find((entry) => entry.state === 'refused' && !entry.tap.isDropped)
  const waiting = entries.filter((entry) => entry.state !== 'sent' && !entry.tap.isDropped)

  function entryOf({ payload = {}, ...tap }: NewTap): Omit<Entry, 'order'> {
    const id = createOperationId()
    const { kind, undoes } = tap
    const operation = {
      id,
      workspaceId,
      personId,
      run: run.id,
      kind,
      payload,
      on: run.on,
      tappedAt: new Date().toISOString(),
      ...(undoes ? { undoes } : {}),
      v: 1 as const,
    }
    return { run: run.id, opening, tap: { id, ...tap }, operation, state: 'waiting' }
  }
  const add = (tap: NewTap) => queue.add(entryOf(tap))

  function cup() {
    const number = standing.nextNumber ?? undefined
    const containerName = kinds.find(({ id }) => id === kindId)?.name
    const numbered = number === undefined ? {} : { number }
    add({ kind: 'cup', containerName, ...numbered, payload: { containerKind: kindId, moults, ...numbered } })
  }

  /** The count was too low: it rises by those who are missing, before the tap that was refused. */
  function raise(entry: Entry) {
    const together = togetherOf(entry.refusal?.present)
    const behind = waiting.map(({ tap }) => tap)
    const count = missingAnimals(together, behind)
    const correction = { ...entryOf({ kind: 'raise', count, payload: { count } }), order: entry.order - 0.5 }
    void queue.change([correction, { ...entry, state: 'waiting' }])
  }

  /** The tap never happened, nor did what took it back. */
  function drop(entry: Entry) {
    const gone = entries.filter(({ tap }) => tap.id === entry.tap.id || tap.undoes === entry.tap.id)
    void queue.change(
      gone.map((each) => ({ ...each, state: 'waiting', tap: { ...each.tap, isDropped: true } })),
    )
  }

  return {
    state,
    entries,
    standing,
    refused,
    waiting,
    kindId,
    setKindId,
    cup,
    dead: () => add({ kind: 'dead', payload: {} }),
    escaped: () => add({ kind: 'escaped', payload: {} }),
    undo: () => standing.last && add({ kind: 'undo', undoes: standing.last.id }),
    finish: () => add({ kind: 'finish' }),
    raise,
    drop,
    sendAgain: () => void queue.flush(),
    pause: () => queue.pause(),
  }
}

/** The label of a cup: from the run's own numbers, or as the service gave it. */
export function labelOf({ labels, run }: BenchRunProps, number: number | null | undefined): string | null {
  return number === null || number === undefined ? null : (labels[number - run.firstNumber] ?? null)
}

/** "K7Q 97 to M2T 14": the labels of the cups that were filled here. */
export function sayLabelRange(props: BenchRunProps, entries: readonly Entry[]): string | null {
  const undone = new Set(entries.flatMap(({ tap }) => (tap.undoes && !tap.isDropped ? [tap.undoes] : [])))
  const labels = entries
    .filter(({ tap }) => tap.kind === 'cup' && !tap.isDropped && !undone.has(tap.id))
    .flatMap(({ tap, label }) => labelOf(props, tap.number) ?? (label ? formatCode(label) : []))
  const [first] = labels
  return first === undefined ? null : labels.length === 1 ? first : `${first} to ${labels.at(-1)}`
}

/** How many were together when the service refused, as it said with its refusal. */
function togetherOf(present: unknown): number {
  if (typeof present !== 'object' || present === null || !('headCount' in present)) return 0
  const { headCount } = present
  if (typeof headCount !== 'object' || headCount === null || !('together' in headCount)) return 0
  return typeof headCount.together === 'number' ? headCount.together : 0
}
