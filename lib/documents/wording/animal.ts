import { type InstarNaming, instarNumber } from '@/lib/domain/instar/label'
import { messagesIn } from '@/lib/messages/catalogue'
import type { Language } from '@/lib/messages/language'

/** A stage is stored as moults since hatch; only its name depends on language and convention. */
export type StageOfLife = { moults: number; isAdult: boolean; naming: InstarNaming }

export type SexKnown = { sex: 'male' | 'female' | 'unsexed'; certainty: 'none' | 'probable' | 'certain' }

/** "5th instar", "L5" or "adult". */
export function stageText(stage: StageOfLife, language: Language): string {
  const say = messagesIn(language, 'animal')
  if (stage.isAdult) return say('adult')
  const n = instarNumber(stage.moults, stage.naming.convention)
  return say(stage.naming.style === 'l-number' ? 'instarNumbered' : 'instar', { n })
}

/** "5th" or "L5", where space is short. */
export function stageShortText(stage: StageOfLife, language: Language): string {
  const say = messagesIn(language, 'animal')
  if (stage.isAdult) return say('adult')
  const n = instarNumber(stage.moults, stage.naming.convention)
  return say(stage.naming.style === 'l-number' ? 'instarNumbered' : 'instarShort', { n })
}

/** "hatchling counted as 1st": without it a number of an instar means two things. */
export function conventionText(naming: InstarNaming, language: Language): string {
  const hatchling: StageOfLife = { moults: 0, isAdult: false, naming }
  const values = { stage: stageShortText(hatchling, language), longStage: stageText(hatchling, language) }
  return messagesIn(language, 'animal')('conventionNote', values)
}

/** The sign and the word, never a sex beyond its certainty. */
export function sexText(known: SexKnown, language: Language): string {
  const say = messagesIn(language, 'animal')
  if (known.sex === 'unsexed' || known.certainty === 'none') return `? ${say('unsexed')}`
  const sign = known.sex === 'female' ? '♀' : '♂'
  const isCertain = known.certainty === 'certain'
  if (known.sex === 'female') return `${sign} ${say(isCertain ? 'female' : 'femaleProbable')}`
  return `${sign} ${say(isCertain ? 'male' : 'maleProbable')}`
}
