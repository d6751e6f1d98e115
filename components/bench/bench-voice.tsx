'use client'

import { useEffect, useRef, useState } from 'react'
import type { BenchCounts } from './bench'

/**
 * What changed between two counts, as far as it has to be said aloud: every tenth cup, every loss, and what somebody
 * else took from the same clutch.
 */
export function sayChange(before: BenchCounts, after: BenchCounts): string {
  if (after.dead > before.dead) return `Dead, ${after.dead}.`
  if (after.escaped > before.escaped) return `Escaped, ${after.escaped}.`
  const isTakenBack =
    after.housed < before.housed || after.dead < before.dead || after.escaped < before.escaped
  if (isTakenBack) return `Taken back. ${after.housed} in cups.`
  if (after.housed === before.housed && after.together !== before.together)
    return `Counted beside you: ${after.together} still together.`
  const isTenth = Math.floor(after.housed / 10) > Math.floor(before.housed / 10)
  return isTenth ? `${after.housed}` : ''
}

export function BenchVoice({ counts }: { counts: BenchCounts }) {
  const before = useRef(counts)
  const [said, setSaid] = useState('')
  useEffect(() => {
    const words = sayChange(before.current, counts)
    before.current = counts
    if (words) setSaid(words)
  }, [counts])
  return (
    <p role="status" className="sr-only">
      {said}
    </p>
  )
}
