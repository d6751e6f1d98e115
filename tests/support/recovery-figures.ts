import { seededStream } from '@/lib/domain/random/seeded'
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

/** Answers to the same questions, in the same order. */
export type Answers = { learned: readonly Scored[]; known: readonly Scored[]; profile: readonly Scored[] }

export function figuresOf(answers: Answers): Figures {
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

export function together(parts: readonly Answers[]): Answers {
  return {
    learned: parts.flatMap(({ learned }) => learned),
    known: parts.flatMap(({ known }) => known),
    profile: parts.flatMap(({ profile }) => profile),
  }
}

const RESAMPLES = 30

/** How far each figure would stray with other rooms: standard deviation over rooms drawn anew (bootstrap). */
export function straysOf(answers: Answers): Figures {
  const rooms = [...byRoom(answers).values()]
  const stream = seededStream('resample')
  const drawn = Array.from({ length: RESAMPLES }, () =>
    figuresOf(together(rooms.map(() => stream.pick(rooms)))),
  )
  const stray = (key: keyof Figures) => {
    const values = drawn.map((figures) => figures[key])
    const middle = mean(values)
    return Math.sqrt(mean(values.map((value) => (value - middle) ** 2)))
  }
  const strays = figuresOf(answers)
  for (const key of Object.keys(strays) as (keyof Figures)[]) strays[key] = stray(key)
  return strays
}

function byRoom(answers: Answers): Map<string, Answers> {
  const rooms = new Map<string, { learned: Scored[]; known: Scored[]; profile: Scored[] }>()
  answers.learned.forEach((learned, index) => {
    const room = rooms.get(learned.room) ?? { learned: [], known: [], profile: [] }
    rooms.set(learned.room, room)
    room.learned.push(learned)
    room.known.push(answers.known[index]!)
    room.profile.push(answers.profile[index]!)
  })
  return rooms
}

/** Only the rooms that pass. */
export function inRooms(answers: Answers, isAsked: (scored: Scored) => boolean): Answers {
  return {
    learned: answers.learned.filter(isAsked),
    known: answers.known.filter(isAsked),
    profile: answers.profile.filter(isAsked),
  }
}
