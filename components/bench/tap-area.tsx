'use client'

import { type Ref, useRef } from 'react'
import type { BenchCounts } from './bench'

type Props = {
  counts: BenchCounts
  nextLabel: string | null
  onCount: (atMs: number) => void
  ref: Ref<HTMLButtonElement>
}

/**
 * Counts when the finger comes down, not when it leaves: a wet finger slides, and a slide is no click. The
 * click that follows a finger is left out; one without a finger before it comes from assistive technology.
 */
export function TapArea({ counts, nextLabel, onCount, ref }: Props) {
  const isPressed = useRef(false)
  return (
    <button
      ref={ref}
      type="button"
      data-count
      // biome-ignore lint/a11y/noAutofocus: the surface is what the bench is for, and a remote needs it at once
      autoFocus
      onPointerDown={(event) => {
        if (!event.isPrimary || event.button !== 0) return
        isPressed.current = true
        onCount(event.timeStamp)
      }}
      onClick={(event) => {
        const isFromFinger = event.detail > 0 && isPressed.current
        isPressed.current = false
        if (!isFromFinger) onCount(event.timeStamp)
      }}
      onContextMenu={(event) => event.preventDefault()}
      className="flex touch-none select-none flex-col items-center justify-center overflow-hidden rounded-edge border-2 border-hand bg-sheet px-4 py-2 text-center active:bg-wash"
    >
      <span className="font-name text-[clamp(3.5rem,32vmin,12rem)] leading-none">{counts.housed}</span>
      <span className="mt-1 font-semibold text-lead text-soft">
        {counts.planned === null ? 'in this run' : `of ${counts.planned} in this run`}
      </span>
      <span className="mt-[3vmin] font-semibold text-hand text-name">One in a cup</span>
      <span className="mt-0.5 text-body text-soft">
        {nextLabel === null ? 'the label follows when there is a connection' : `next label ${nextLabel}`}
      </span>
    </button>
  )
}
