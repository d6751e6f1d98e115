import type { PlainDate } from '../calendar/date'
import { forecastNextWindow, type NextWindow } from '../development/forecast'
import { instarLabel } from '../instar/label'
import { instarStart } from './instar-start'
import {
  developmentInput,
  inputOf,
  type KnownSurroundings,
  type LivedRecord,
  type MoultState,
  softUntilOf,
  stateOf,
} from './outlook'
import { moultsOf } from './record'

/** As much of an outlook as a line in a list of animals says. */
export type BriefOutlook = {
  stage: string
  softUntil: PlainDate | null
  state: MoultState
  /** Null where no temperature is known. */
  nextMoult: NextWindow | null
}

/**
 * The same stage, state and window as `outlookOf` gives, for lists: without reasons, chances of many spans, the
 * middle of the window and the timeline, which cost more than all the rest and are not shown there.
 */
export function briefOutlookOf(animal: LivedRecord, known: KnownSurroundings): BriefOutlook {
  const input = inputOf(animal, known)
  const { record, naming, today } = input
  const isAdult = record.adultSinceOn !== null
  const softUntil = softUntilOf(input)
  const stage = instarLabel(moultsOf(record), naming, { isAdult })
  if (input.history.length === 0) {
    const state = softUntil ? 'soft' : isAdult ? 'adult' : 'unknown'
    return { stage, softUntil, state, nextMoult: null }
  }
  const nextMoult = isAdult
    ? ({ status: 'adult' } as const)
    : forecastNextWindow(developmentInput(input, instarStart(record, input)))
  return { stage, softUntil, state: softUntil ? 'soft' : stateOf(nextMoult, today), nextMoult }
}
