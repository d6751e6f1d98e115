'use client'

import { useEffect, useState } from 'react'
import type { BenchDevice, DeviceState } from '@/components/bench/queue/bench-device'
import { createOperationId, type Entry, isUnsent, type KeptRun } from '@/components/bench/queue/entry'
import { formatCode } from '@/lib/domain/label/code'
import { type BenchTap, benchStanding, missingAnimals } from '@/lib/domain/separation/bench-run'

export type OpenRun = { kept: KeptRun; device: BenchDevice; state: DeviceState }
type NewTap = Omit<BenchTap, 'id'> & { payload?: Record<string, unknown> }

/** How often a device asks what others do at the same clutch. */
const LOOK_EVERY_MS = 4_000

/** One run on this device: what stands on the screen, and what each touch does. */
export function useBenchRun({ kept, device, state }: OpenRun) {
  const { run, standing: opening, moults, kinds } = kept
  const [kindId, setKindId] = useState(run.containerKindId)
  const entries = (state.entries ?? []).filter(
    (entry) => entry.run === run.id && entry.operation.personId === kept.person.id,
  )
  const standing = benchStanding(
    opening,
    entries.map(({ tap }) => tap),
  )
  const refused = entries.find((entry) => entry.state === 'refused' && !entry.tap.isDropped)
  const waiting = entries.filter(isUnsent)
  useLookAgain(kept, device)

  const add = (tap: NewTap) => device.add(entryOf(kept, tap))

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
    const correction = {
      ...entryOf(kept, { kind: 'raise', count, payload: { count } }),
      order: entry.order - 0.5,
    }
    void device.change([correction, { ...entry, state: 'waiting' }])
  }

  /** The tap never happened, nor did what took it back. */
  function drop(entry: Entry) {
    const gone = entries.filter(({ tap }) => tap.id === entry.tap.id || tap.undoes === entry.tap.id)
    void device.change(
      gone.map((each) => ({ ...each, state: 'waiting', tap: { ...each.tap, isDropped: true } })),
    )
  }

  return {
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
    isTray: entries.some(({ tap }) => tap.kind === 'tray' && !tap.isDropped),
    keepAsTray: () => add({ kind: 'tray' }),
    sayHanging: (count: number) =>
      add({ kind: 'hanging', count, payload: { count, moults: Math.min(11, moults) } }),
    raise,
    drop,
  }
}

export type RunAtBench = ReturnType<typeof useBenchRun>

function entryOf(
  { run, person, workspace }: KeptRun,
  { payload = {}, ...tap }: NewTap,
): Omit<Entry, 'order'> {
  const id = createOperationId()
  const { kind, undoes } = tap
  const operation = {
    id,
    workspaceId: workspace.id,
    personId: person.id,
    run: run.id,
    kind,
    payload,
    on: run.on,
    tappedAt: new Date().toISOString(),
    ...(undoes ? { undoes } : {}),
    v: 1 as const,
  }
  return { run: run.id, tap: { id, ...tap }, operation, state: 'waiting' }
}

/** Others may count at the same clutch: asks every few seconds while the page is looked at. */
function useLookAgain(kept: KeptRun, device: BenchDevice): void {
  const { run, person } = kept
  // biome-ignore lint/correctness/useExhaustiveDependencies: the run stays the same while what is known of it changes
  useEffect(() => {
    const look = () => {
      if (document.visibilityState === 'visible') void device.lookAgain(kept)
    }
    look()
    const timer = setInterval(look, LOOK_EVERY_MS)
    return () => clearInterval(timer)
  }, [device, run.id, person.id])
}

/** The label of a cup: from the run's own numbers, or as the service gave it. */
export function labelOf({ labels, run }: KeptRun, number: number | null | undefined): string | null {
  return number === null || number === undefined ? null : (labels[number - run.firstNumber] ?? null)
}

/** "K7Q 97 to M2T 14": the labels of the cups that were filled here. */
export function sayLabelRange(kept: KeptRun, entries: readonly Entry[]): string | null {
  const undone = new Set(entries.flatMap(({ tap }) => (tap.undoes && !tap.isDropped ? [tap.undoes] : [])))
  const labels = entries
    .filter(({ tap }) => tap.kind === 'cup' && !tap.isDropped && !undone.has(tap.id))
    .flatMap(({ tap, label }) => (label ? formatCode(label) : (labelOf(kept, tap.number) ?? [])))
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
