import type { InstarNaming } from '@/lib/domain/instar/label'
import type { DescribedLine } from '@/lib/domain/order/description'
import type { SoldFacts } from '@/lib/domain/sale/sold-facts'
import { getCatalogue, messagesIn } from '@/lib/messages/catalogue'
import type { Language } from '@/lib/messages/language'
import { conventionText, stageShortText, stageText } from './animal'
import { shortDateText } from './dates'
import type { Wording } from './units'

/** What was sold, in the language of the receipt: "Hymenopus coronatus, 4. Larvenstadium (…), weiblich". */
export function soldText(facts: SoldFacts, wording: Wording): string {
  const say = messagesIn(wording.language, 'receipt')
  switch (facts.kind) {
    case 'animal':
      return animalText(facts, wording.language)
    case 'lot': {
      const hatched = say('hatched', { date: shortDateText(facts.hatchedOn, wording) })
      return `${facts.scientificName}, ${say('lot', { lot: facts.lot })}, ${hatched}`
    }
    case 'egg_case': {
      const { scientificName: name, label, laidOn } = facts
      const laid = laidOn ? `, ${say('laid', { date: shortDateText(laidOn, wording) })}` : ''
      return `${say('eggCase', { name, label })}${laid}`
    }
    case 'culture': {
      const date = shortDateText(facts.startedOn, wording)
      return say('culture', { name: lineText(facts, wording.language), label: facts.label, date })
    }
    case 'pack':
      return say('pack', { name: lineText(facts, wording.language), n: facts.items })
  }
}

function animalText(facts: Extract<SoldFacts, { kind: 'animal' }>, language: Language): string {
  const { scientificName, moults, isAdult, naming } = facts
  const parts = [scientificName]
  if (moults !== null) {
    const stage = stageText({ moults, isAdult, naming }, language)
    parts.push(isAdult ? stage : `${stage} (${conventionText(naming, language)})`)
  }
  return [...parts, sexWord(facts, language)].join(', ')
}

/** Without the sign: thermal printers and old fonts know none. */
function sexWord(
  { sex, certainty }: Pick<Extract<SoldFacts, { kind: 'animal' }>, 'sex' | 'certainty'>,
  language: Language,
): string {
  const say = messagesIn(language, 'animal')
  if (sex === 'unsexed' || certainty === 'none') return say('unsexed')
  if (certainty === 'certain') return say(sex)
  return say(sex === 'female' ? 'femaleProbable' : 'maleProbable')
}

/** The common lines have a name in every language, an own one has the name it was given. */
function lineText({ line, name }: { line: string; name: string }, language: Language): string {
  const known = Object.keys(getCatalogue(language).prey).find((key) => key === line)
  if (!isPrey(known)) return name
  const words = messagesIn(language, 'prey')(known, { n: 2 })
  return words.charAt(0).toLocaleUpperCase(language) + words.slice(1)
}

const NO_PREY = ['amount', 'portion', 'everyDays', 'mistEveryDays']
type PreyKey = keyof ReturnType<typeof getCatalogue>['prey'] & string
const isPrey = (key: string | undefined): key is PreyKey => key !== undefined && !NO_PREY.includes(key)

/** A line of an order: "Hymenopus coronatus, 4th to 5th instar, female". */
export function orderLineText(line: DescribedLine, naming: InstarNaming, language: Language): string {
  const animal = messagesIn(language, 'animal')
  const sex = line.sex === 'any' ? messagesIn(language, 'orderLine')('eitherSex') : animal(line.sex)
  return [line.scientificName, stagesText(line, naming, language), sex].join(', ')
}

function stagesText(
  { takes, fromMoults, untilMoults }: DescribedLine,
  naming: InstarNaming,
  language: Language,
): string {
  const say = messagesIn(language, 'orderLine')
  const stageOf = (moults: number) => stageText({ moults, isAdult: false, naming }, language)
  if (takes === 'adult') return messagesIn(language, 'animal')('adult')
  if (untilMoults === null) {
    if (takes === 'either' && fromMoults === 0) return say('anyStage')
    return say(takes === 'nymph' ? 'nymphFrom' : 'from', { stage: stageOf(fromMoults) })
  }
  const from = stageShortText({ moults: fromMoults, isAdult: false, naming }, language)
  const until = stageOf(untilMoults)
  const nymph = fromMoults === untilMoults ? until : say('between', { from, until })
  return takes === 'either' ? say('orAdult', { stage: nymph }) : nymph
}
