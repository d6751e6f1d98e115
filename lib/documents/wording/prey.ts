import type { PreyItem, PreyPortion } from '@/lib/domain/care-profile/profile'
import { messagesIn } from '@/lib/messages/catalogue'
import { listText, rangeText, type Wording } from './units'

/** "house flies" */
export function preyText(item: PreyItem, wording: Wording): string {
  return messagesIn(wording.language, 'prey')(item, { n: 2 })
}

/**
 * "1–2 house flies, 1 moth or 1 small cricket every second day". The portions are alternatives, first choice
 * first; three are enough on a sheet. Those of different rhythm each say their own.
 */
export function mealsText(portions: PreyPortion[], wording: Wording): string {
  const shown = portions.slice(0, 3)
  const rhythms = new Set(shown.map((portion) => portion.perDays))
  const groups = rhythms.size === 1 ? [shown] : shown.map((portion) => [portion])
  return listText(
    groups.map((group) => groupText(group, wording)),
    wording,
    'disjunction',
  )
}

function groupText(portions: PreyPortion[], wording: Wording): string {
  const say = messagesIn(wording.language, 'prey')
  const amounts = portions.map(({ item, min, max }) => {
    const amount = min === max ? rangeless(max, wording) : rangeText({ min, max }, wording)
    return say('amount', { amount, prey: say(item, { n: max }) })
  })
  const often = say('everyDays', { n: portions[0]?.perDays ?? 1 })
  return say('portion', { meal: listText(amounts, wording, 'disjunction'), often })
}

function rangeless(amount: number, wording: Wording): string {
  return new Intl.NumberFormat(wording.locale).format(amount)
}
