import type { PreyItem, PreyPortion } from '@/lib/domain/care-profile/profile'
import { messagesIn } from '@/lib/messages/catalogue'
import { listText, rangeText, type Wording } from './units'

/** "house flies" */
export function preyText(item: PreyItem, wording: Wording): string {
  return messagesIn(wording.language, 'prey')(item, { n: 2 })
}

/** "1–2 house flies every second day" */
export function portionText(portion: PreyPortion, wording: Wording): string {
  const say = messagesIn(wording.language, 'prey')
  const amount = portion.min === portion.max ? rangeless(portion.max, wording) : rangeText(portion, wording)
  const prey = say(portion.item, { n: portion.max })
  return say('portion', { amount, prey, often: say('everyDays', { n: portion.perDays }) })
}

/** The portions are alternatives, first choice first; three are enough on a sheet. */
export function mealsText(portions: PreyPortion[], wording: Wording): string {
  const texts = portions.slice(0, 3).map((portion) => portionText(portion, wording))
  return listText(texts, wording, 'disjunction')
}

function rangeless(amount: number, wording: Wording): string {
  return new Intl.NumberFormat(wording.locale).format(amount)
}
