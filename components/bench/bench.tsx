'use client'

import { type ReactNode, useRef } from 'react'
import type { Connection } from '../offline/device'
import { BenchFoot } from './bench-foot'
import { BenchHead } from './bench-head'
import { BenchVoice } from './bench-voice'
import { KindChoice } from './kind-choice'
import { TapArea } from './tap-area'
import { useCountKeys } from './use-count-keys'
import { useSoundChoice } from './use-sound-choice'
import { useSpeech } from './use-speech'
import { useTick } from './use-tick'
import { useTouchGuard } from './use-touch-guard'
import { useWakeLock } from './use-wake-lock'

export type BenchCounts = {
  /** Cups filled in this run. */
  housed: number
  /** Size of the run; null where no one set one. The bench never refuses a cup beyond it. */
  planned: number | null
  /** Still with their siblings, as far as known. */
  together: number
  dead: number
  escaped: number
}

export type BenchProps = {
  clutchCode: string
  scientificName: string
  counts: BenchCounts
  /** "K7Q 97", for the next cup. */
  nextLabel: string | null
  containerKinds: readonly { id: string; name: string }[]
  containerKindId: string
  onChooseKind: (id: string) => void
  /** What Undo would take back: "K7Q 96 in 120 ml", "1 dead". */
  lastEntry: string | null
  onTap: () => void
  onDead: () => void
  onEscaped: () => void
  onUndo: () => void
  onFinish: () => void
  connection: Connection
  /** Entries that stand on this device only. */
  waitingCount: number
  needsConnection: boolean
  /** What has to be decided or known. Pushes the rest down, so that it covers neither Undo nor the surface. */
  notice?: ReactNode
}

/**
 * One touch anywhere on the large surface is one animal in one cup. The parent counts at once and sends in its
 * own time; nothing here waits for a network.
 */
export function Bench(props: BenchProps) {
  const { counts, onTap } = props
  const [isSoundOn, setSoundOn] = useSoundChoice()
  const tapRef = useRef<HTMLButtonElement>(null)
  const guard = useTouchGuard()
  const tick = useTick(isSoundOn)
  const speak = useSpeech(isSoundOn)
  const wake = useWakeLock()

  function count(atMs: number) {
    guard(atMs, () => {
      const housed = counts.housed + 1
      onTap()
      tick(housed % 10 === 0)
      if (housed % 10 === 0) speak(String(housed))
    })
  }
  useCountKeys(count)

  /** Back to the surface after every other act: the next press of a remote must not repeat "Dead". */
  function act(atMs: number, doIt: () => void) {
    guard(atMs, doIt)
    tapRef.current?.focus({ preventScroll: true })
  }

  return (
    <section
      aria-label="Bench"
      className="fixed inset-0 z-40 grid grid-cols-[minmax(0,1fr)] grid-rows-[auto_auto_auto_minmax(0,1fr)_auto] gap-2 bg-ground px-4 pt-3 pb-[max(0.75rem,env(safe-area-inset-bottom))]"
    >
      <div>
        <BenchHead
          clutchCode={props.clutchCode}
          scientificName={props.scientificName}
          connection={props.connection}
          waitingCount={props.waitingCount}
          maySleep={wake === 'may-sleep'}
          needsConnection={props.needsConnection}
        />
        {props.notice}
      </div>
      <KindChoice
        kinds={props.containerKinds}
        chosenId={props.containerKindId}
        onChoose={(id) => {
          props.onChooseKind(id)
          tapRef.current?.focus({ preventScroll: true })
        }}
      />
      <div className="mb-1.5 flex min-h-11 items-center justify-between gap-3">
        <p className="min-w-0 truncate text-small text-soft">
          {props.lastEntry ? `Last: ${props.lastEntry}` : 'Nothing to take back yet'}
        </p>
        <button
          type="button"
          disabled={props.lastEntry === null}
          onClick={(event) => act(event.timeStamp, props.onUndo)}
          className="target rounded-edge border border-ink px-5 font-semibold text-small disabled:border-line disabled:text-soft"
        >
          Undo
        </button>
      </div>
      <TapArea ref={tapRef} counts={counts} nextLabel={props.nextLabel} onCount={count} />
      <BenchFoot
        counts={counts}
        onDead={(atMs) => act(atMs, props.onDead)}
        onEscaped={(atMs) => act(atMs, props.onEscaped)}
        onFinish={props.onFinish}
        isSoundOn={isSoundOn}
        onSound={() => {
          setSoundOn(!isSoundOn)
          tapRef.current?.focus({ preventScroll: true })
        }}
      />
      <BenchVoice counts={counts} />
    </section>
  )
}
