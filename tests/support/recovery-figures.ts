import { mean, median } from './recovery-judge'
import type { Scored } from './recovery-run'

/** The figures a set of answers is judged by, against full knowledge of the parameters and the profile alone. */
export type Figures = {
  forecasts: number
  pitShare: number
  windowShare: number
  medianErrorDays: number
  errorRatio: number
  ownRatio: number
  newRatio: number
  gain: number
  rightRatio: number
  crpsRatio: number
}

export function figuresOf(answers: {
  learned: readonly Scored[]
  known: readonly Scored[]
  profile: readonly Scored[]
}): Figures {
  const { learned, known, profile } = answers
  const error = (of: readonly Scored[], which: (scored: Scored) => boolean) =>
    median(of.filter(which).map(({ errorDays }) => errorDays))
  const ratio = (which: (scored: Scored) => boolean) => error(learned, which) / error(known, which)
  const isShifted = ({ shift }: Scored) => shift !== 0
  const isRight = ({ shift }: Scored) => shift === 0
  const attainable = error(profile, isShifted) - error(known, isShifted)
  return {
    forecasts: learned.length,
    pitShare: mean(learned.map(({ pit }) => (pit > 0.1 && pit < 0.9 ? 1 : 0))),
    windowShare: mean(learned.map(({ isInWindow }) => (isInWindow ? 1 : 0))),
    medianErrorDays: error(learned, () => true),
    errorRatio: ratio(() => true),
    ownRatio: ratio(({ ownMoults }) => ownMoults >= 5),
    newRatio: ratio(({ ownMoults }) => ownMoults === 0),
    gain: (error(profile, isShifted) - error(learned, isShifted)) / attainable,
    rightRatio: error(learned, isRight) / error(profile, isRight),
    crpsRatio: mean(learned.map(({ crps }) => crps)) / mean(known.map(({ crps }) => crps)),
  }
}
