import type { PlainDate } from '../calendar/date'
import {
  type AnimalBlock,
  type AnimalCheck,
  type CheckRules,
  checkAnimal,
  type TravellingAnimal,
} from './animal'
import { commonPacking, type Packing } from './gate'
import { airOf, closedBlock, isSentOn, type Journey, journeyFrom } from './journey'
import { type Option, placeSafest } from './matching'
import { type DispatchQuestion, fitsLine, type OrderedLine, stageOfCandidate, stageOfChosen } from './order'

export type GoingAnimal = {
  line: number
  animal: string
  chance: number
  isChosen: boolean
  duty: string | null
}

/** What keeps an order here on a day: the weekday, a closed day, one animal, or a line for which too few are fit. */
export type Hold =
  | { by: 'weekday' }
  | { by: 'closed-day'; message: string }
  | ({ by: 'animal'; animal: string } & AnimalBlock)
  | { by: 'line'; line: number; message: string }
  | { by: 'box'; message: string }

export type CheckedDay = Journey & {
  holds: Hold[]
  /** Who goes; on a held day those who could. */
  going: GoingAnimal[]
  /** Null where no air is known. */
  packing: Packing | null
  /** What is still to be looked up before packing; null where the air at both ends is known. */
  missingAir: string | null
}

/** One packing day of an order. Pure, O(animals × lines). */
export function checkDay(packOn: PlainDate, question: DispatchQuestion): CheckedDay {
  const { rules, today, naming, isCollected } = question
  const journey = journeyFrom(packOn, rules)
  const met = airOf(journey, question.air)
  const air = question.isHandedOver ? { ...met, range: null, missing: null } : met
  const held = { ...journey, going: [], packing: null, missingAir: air.missing }
  if (!isSentOn(packOn, rules)) return { ...held, holds: [{ by: 'weekday' }] }
  const closed = closedBlock(journey, rules)
  if (closed) return { ...held, holds: [{ by: 'closed-day', message: closed }] }
  const handing = { isNextDay: rules.transitDays <= 1, isCollected }
  const checkRules = { today, naming, air, handing, ...question.settings }
  const chosen = checkChosen(question, journey, checkRules)
  const found = fillLines(question, journey, checkRules)
  const packings = [...chosen, ...found.going].flatMap(({ check }) => check.packing ?? [])
  const packing = packings.length > 0 ? commonPacking(packings) : null
  const holds = [...chosen.flatMap(holdOf), ...found.holds]
  if (holds.length === 0 && packing?.way === 'hold')
    holds.push({ by: 'box', message: `No packing suits them all: ${packing.reason}.` })
  const going = [...chosen, ...found.going].filter(({ check }) => !check.block).map(presentGoing)
  return { ...journey, holds, going, packing, missingAir: air.missing }
}

type Checked = { line: number; animal: TravellingAnimal; check: AnimalCheck; isChosen: boolean }

function checkChosen(question: DispatchQuestion, journey: Journey, rules: CheckRules): Checked[] {
  const byId = new Map(question.animals.map((animal) => [animal.id, animal]))
  return question.lines.flatMap(({ number, chosen }) =>
    chosen.flatMap((id) => {
      const animal = byId.get(id)
      if (!animal) return []
      const check = checkAnimal(animal, { journey, stage: stageOfChosen(animal), rules })
      return [{ line: number, animal, check, isChosen: true }]
    }),
  )
}

function holdOf({ animal, check }: Checked): Hold[] {
  return check.block ? [{ by: 'animal', animal: animal.id, ...check.block }] : []
}

function presentGoing({ line, animal, check, isChosen }: Checked): GoingAnimal {
  return { line, animal: animal.id, chance: check.fitness.chance, isChosen, duty: check.duty }
}

/** Safe animals for the places that nobody was chosen for, and the lines for which there are too few. */
function fillLines(
  question: DispatchQuestion,
  journey: Journey,
  rules: CheckRules,
): { going: Checked[]; holds: Hold[] } {
  const isChosen = new Set(question.lines.flatMap(({ chosen }) => chosen))
  const free = question.animals.filter(({ id }) => !isChosen.has(id))
  const tried = question.lines
    .filter(({ count, chosen }) => chosen.length < count)
    .map((line) => ({ line, checked: checkCandidates(line, free, { journey, rules }) }))
  const places = tried.flatMap(({ line, checked }) =>
    Array.from({ length: line.count - line.chosen.length }, () => ({ line, checked })),
  )
  const options: Option[] = places.flatMap(({ checked }, place) =>
    checked
      .filter(({ check }) => !check.block)
      .map(({ animal, check }) => ({ place, animal: animal.id, chance: check.fitness.chance })),
  )
  const placed = placeSafest(places.length, options)
  const going = placed.flatMap(({ place, animal }) => {
    const found = places[place]?.checked.find((one) => one.animal.id === animal)
    return found ? [found] : []
  })
  const holds = tried.flatMap(({ line, checked }) => {
    const filled = going.filter((one) => one.line === line.number).length + line.chosen.length
    return filled < line.count ? [shortLine(line, { filled, checked })] : []
  })
  return { going, holds }
}

function checkCandidates(
  line: OrderedLine,
  free: readonly TravellingAnimal[],
  { journey, rules }: { journey: Journey; rules: CheckRules },
): Checked[] {
  return free
    .filter((animal) => fitsLine(animal, line))
    .map((animal) => {
      const check = checkAnimal(animal, { journey, stage: stageOfCandidate(animal, line), rules })
      return { line: line.number, animal, check, isChosen: false }
    })
}

/** Names whoever is nearest to being fit, so that somebody can look at that cup. */
function shortLine(line: OrderedLine, { filled, checked }: { filled: number; checked: Checked[] }): Hold {
  const which =
    line.count === 1
      ? `Nobody is fit to travel for “${line.words}”`
      : `${filled} of ${line.count} are fit for “${line.words}”`
  if (checked.length === 0)
    return { by: 'line', line: line.number, message: `None is here for “${line.words}”.` }
  const blocked = checked.filter(({ check }) => check.block)
  const nearest = blocked.reduce<Checked | null>(
    (best, one) => (best && best.check.fitness.chance >= one.check.fitness.chance ? best : one),
    null,
  )
  // The air is nobody's own: which animal meets it does not matter.
  if (nearest?.check.block?.code === 'temperature')
    return { by: 'line', line: line.number, message: nearest.check.block.message }
  const why = nearest?.check.block
    ? ` Nearest is ${nearest.animal.label}: ${lowerFirst(nearest.check.block.message)}`
    : ''
  return { by: 'line', line: line.number, message: `${which}.${why}` }
}

function lowerFirst(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1)
}
