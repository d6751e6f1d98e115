import { PREY_ITEMS, type PreyItem } from '@/lib/domain/care-profile/profile'
import { messagesIn } from '@/lib/messages/catalogue'
import { conventionText, sexText, stageText } from '../wording/animal'
import { briefDateRangeText, shortDateText } from '../wording/dates'
import { preyText } from '../wording/prey'
import { bodyLengthText } from '../wording/units'
import { isPair } from './keeping-sections'
import { joined, shorten } from './parts'
import type { LotAnimal } from './payload'
import { type Speaker, typedText } from './speaker'

/** Who the sheet is about, in one to three lines under the name. */
export function subjectLines(speaker: Speaker): string[] {
  const { payload, say, wording, isLot, isMantis } = speaker
  const { animal, language } = payload
  if (payload.eggCase) return [say('eggCase')]
  if (isLot) return lotLines(speaker, payload.lot ?? [])
  const stage = animal.stage
  if (!stage) return isMantis ? [sexText(animal, language)] : []
  const sayAnimal = messagesIn(language, 'animal')
  const name = stageText(stage, language)
  if (stage.isAdult) return [`${sexText(animal, language)} · ${name}`, sayAnimal('fullyGrown')]
  return [
    `${sexText(animal, language)} · ${name} (${conventionText(stage.naming, wording.language)})`,
    sayAnimal('moultsSinceHatch', { n: stage.moults }),
  ]
}

/** "1 × ♂ male · 2 × ? sex not known yet", and the stages that are among them. */
function lotLines({ payload, isMantis }: Speaker, lot: LotAnimal[]): string[] {
  const { language } = payload
  const counts = new Map<string, number>()
  if (isMantis)
    for (const one of lot) {
      const words = sexText(one, language)
      counts.set(words, (counts.get(words) ?? 0) + 1)
    }
  const stages = lot.flatMap(({ stage }) => stage ?? []).sort((a, b) => a.moults - b.moults)
  const names = [...new Set(stages.map((stage) => stageText(stage, language)))]
  const nymph = stages.find((stage) => !stage.isAdult)
  const convention = nymph ? ` (${conventionText(nymph.naming, language)})` : ''
  return joined([
    [...counts].map(([words, count]) => `${count} × ${words}`).join(' · '),
    names.length > 0 && `${names.join(' · ')}${convention}`,
  ])
}

/** What stands beside the label in the head: the label itself, or what kind of lot it is and its count by sex. */
export function subjectLabel({ payload, say, isLot }: Speaker): { labelTerm: string; labelCode: string } {
  const lot = payload.lot ?? []
  if (!isLot) return { labelTerm: say('label'), labelCode: shorten(payload.animal.labelCode, 20) ?? '?' }
  const known = lot.map(({ sex, certainty }) => (certainty === 'none' ? 'unsexed' : sex))
  const counts = (['male', 'female', 'unsexed'] as const).map(
    (sex) => known.filter((one) => one === sex).length,
  )
  const labelTerm = isPair(lot) ? say('pair') : say('lot', { n: lot.length })
  return { labelTerm, labelCode: counts.join('.') }
}

const LABELS_LISTED = 24

export function subjectFacts(speaker: Speaker): { term: string; text: string }[] {
  const { payload, say, wording, isLot } = speaker
  const { animal, lot } = payload
  const onPaper = payload.paper === 'a5' ? 200 : 420
  const date = (on: string | null | undefined) => (on ? shortDateText(on, wording) : null)
  const mated = { yes: say('matedYes'), no: say('matedNo'), unknown: say('matedUnknown') }
  const labels = lot?.slice(0, LABELS_LISTED).map(({ labelCode }) => shorten(labelCode, 20) ?? '?') ?? []
  const more = (lot?.length ?? 0) > LABELS_LISTED ? ' …' : ''
  const length = animal.bodyLengthMm ? bodyLengthText(animal.bodyLengthMm, wording) : null
  const facts: [string, string | null][] = [
    [say('labels'), isLot ? `${labels.join(', ')}${more}` : null],
    [say('laid'), laidText(speaker)],
    [say('received'), date(payload.eggCase?.receivedOn)],
    [say('hatched'), date(animal.hatchedOn)],
    [say('lastMoult'), date(animal.lastMoultOn)],
    [say('lastAte'), lastFedText(speaker)],
    [isLot ? say('smallest') : say('bodyLength'), length],
    [say('mated'), animal.mated ? mated[animal.mated] : null],
    [say('injuries'), typedText(animal.injuries, 140, speaker)],
    [say('note'), typedText(animal.note, onPaper, speaker)],
  ]
  return facts.flatMap(([term, text]) => (text ? [{ term, text }] : []))
}

function laidText({ payload, wording }: Speaker): string | null {
  const laid = payload.eggCase?.laid
  if (!laid) return null
  return laid.fromOn === laid.toOn
    ? shortDateText(laid.fromOn, wording)
    : briefDateRangeText(laid.fromOn, laid.toOn, wording)
}

function lastFedText({ payload, wording }: Speaker): string | null {
  if (!payload.animal.lastFed) return null
  const { on, prey } = payload.animal.lastFed
  const known = PREY_ITEMS.find((item: PreyItem) => item === prey)
  return joined([shortDateText(on, wording), known ? preyText(known, wording) : shorten(prey, 60)]).join(', ')
}
