import type { PlainDate } from '../calendar/date'
import { writeCount, writeDay } from '../calendar/wording'
import { ordinal } from '../instar/label'
import { SEPARATION_SETTINGS, type SeparationInput } from './input'
import { hangingOf, isSpoken } from './sighting'

/** Why a clutch is due or late, most pressing first, in English; the codes serve other languages. */
export type SeparationReason = {
  code:
    | 'stage'
    | 'colony'
    | 'cost'
    | 'size-gap'
    | 'mixed'
    | 'hungry'
    | 'food-short'
    | 'losses'
    | 'seen'
    | 'hanging'
    | 'cold'
    | 'few'
  text: string
}

export type Deadlines = { byStage: PlainDate | null; dueOn: PlainDate | null; lateOn: PlainDate | null }

export function separationReasons(input: SeparationInput, dates: Deadlines): SeparationReason[] {
  if (input.together < 2) return [{ code: 'few', text: 'No siblings are left together.' }]
  const signs = input.signs ?? {}
  const urgent: [boolean | undefined, SeparationReason][] = [
    [
      signs.hasSizeGap,
      { code: 'size-gap', text: 'Two instars were seen together: the larger eat the smaller.' },
    ],
    [signs.isHungry, { code: 'hungry', text: 'They were seen hungry: hunger is what makes siblings prey.' }],
    [signs.isFoodShort, { code: 'food-short', text: 'Food for this clutch is short.' }],
    [signs.hasUnexpectedLosses, { code: 'losses', text: 'More are missing than expected.' }],
  ]
  const seen = urgent.filter(([isSeen]) => isSeen).map(([, reason]) => reason)
  const looked = [...hangingReason(input), ...mixedReason(input), ...sightingReason(input)]
  const stage = stageReason(input, dates.byStage)
  const cost = costReason(input, dates.lateOn)
  const isCostFirst = dates.byStage !== null && dates.dueOn !== null && dates.dueOn < dates.byStage
  return isCostFirst ? [...seen, ...cost, stage, ...looked] : [...seen, stage, ...cost, ...looked]
}

function mixedReason({ signs }: SeparationInput): SeparationReason[] {
  if (!signs?.isMixed || signs.hasSizeGap) return []
  return [
    { code: 'mixed', text: 'Two instars are together while they moult: the risk is higher until all have.' },
  ]
}

function hangingReason(input: SeparationInput): SeparationReason[] {
  const hanging = hangingOf(input.sightings ?? [], input)
  if (!hanging) return []
  const count = Math.min(hanging.count, input.together)
  const text =
    `${count} hung for a moult on ${writeDay(hanging.on, input.today)}: leave them alone until ` +
    `${writeDay(hanging.until, input.today)}, when their skin is hard.`
  return [{ code: 'hanging', text }]
}

function sightingReason({ sightings = [], today, seen }: SeparationInput): SeparationReason[] {
  const last = sightings.findLast(isSpoken)
  if (!last || seen) return []
  const share = { none: 'none', first: 'the first', some: 'some', most: 'most', all: 'all' }[last.moulted]
  const text = `On ${writeDay(last.on, today)} ${share} were seen past the ${ordinal(last.number)} moult, and the dates follow that.`
  return [{ code: 'seen', text }]
}

function stageReason(input: SeparationInput, byStage: PlainDate | null): SeparationReason {
  const riskMoults = input.profile.separation.apartAtMoults.value
  if (riskMoults === null) {
    return {
      code: 'colony',
      text: 'May live together where space, food and equal size allow (care profile).',
    }
  }
  if (byStage === null) return { code: 'cold', text: 'Too cold to grow: no date until they are kept warmer.' }
  const settings = { ...SEPARATION_SETTINGS, ...input.settings }
  const limit = Math.ceil(Math.max(settings.pastAnimals, settings.pastShare * input.together))
  const source = input.profile.separation.apartAtMoults.source.kind === 'own' ? 'your own value' : 'default'
  const text =
    `Hatched on ${writeDay(input.hatchedOn, input.today)}; by the warmth since, at least ${limit} of ` +
    `${input.together} are expected past the ${ordinal(riskMoults)} moult after ` +
    `${writeDay(byStage, input.today)} (siblings apart by that moult: ${source}).`
  return { code: 'stage', text }
}

function costReason(input: SeparationInput, lateOn: PlainDate | null): SeparationReason[] {
  if (lateOn === null) return []
  const settings = { ...SEPARATION_SETTINGS, ...input.settings }
  const cost = writeCount(settings.lateAnimals, 'animal')
  const text = `From ${writeDay(lateOn, input.today)} every further day is expected to cost at least ${cost}.`
  return [{ code: 'cost', text }]
}
