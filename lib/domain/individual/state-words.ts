import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { BriefOutlook } from './brief-outlook'

/** How urgently, and in which words, an animal's present state is said. */
export type StateWords = { state: 'late' | 'due' | 'leave-alone' | 'fine'; word: string }

type SaidMoult = { status: 'forecast'; p10: PlainDate; p90: PlainDate } | { status: 'adult' | 'too-cold' }

/** "leave alone until 5 Nov: soft after its moult". Null where nothing can be said. */
export function stateWords(
  outlook: Pick<BriefOutlook, 'state' | 'softUntil'> & { nextMoult: SaidMoult | null },
  today: PlainDate,
): StateWords | null {
  const { state, softUntil, nextMoult } = outlook
  if (state === 'soft' && softUntil)
    return { state: 'leave-alone', word: `soft until ${writeDay(softUntil, today)}` }
  if (state === 'adult') return { state: 'fine', word: 'adult' }
  if (nextMoult?.status !== 'forecast') return null
  const { p10, p90 } = nextMoult
  if (state === 'overdue') return { state: 'due', word: 'moult overdue: look for a skin' }
  if (state === 'window') return { state: 'leave-alone', word: `moult any day until ${writeDay(p90, today)}` }
  return { state: 'fine', word: `moult ${writeDay(p10, today)} to ${writeDay(p90, today)}` }
}
