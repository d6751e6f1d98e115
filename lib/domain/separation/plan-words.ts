import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { PlanHelp } from './plan-help'

/** "one more hour on 26 Nov", "20 more 120 ml cups by 3 Dec". */
export function sayHelp(help: PlanHelp, kindName: (id: string) => string, today?: PlainDate): string {
  if (help.kind === 'hour') return `one more hour on ${writeDay(help.on, today)}`
  return `${help.count} more ${pluralOf(kindName(help.containerKind))} by ${writeDay(help.by, today)}`
}

/** "120 ml cups", "net cages 20 cm" stays as it is: a size behind the noun takes no s. */
export function pluralOf(name: string): string {
  return /[a-z]$/.test(name) && !/(s|\d\s*(cm|mm|ml|l))$/.test(name) ? `${name}s` : name
}

/** "about 4 animals", "less than 1 animal", "nobody". */
export function sayAnimals(count: number): string {
  if (count < 0.05) return 'nobody'
  if (count < 0.75) return 'less than 1 animal'
  if (count < 1.5) return 'about 1 animal'
  return `about ${Math.round(count)} animals`
}
