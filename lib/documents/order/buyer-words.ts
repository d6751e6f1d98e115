import type { DispatchAnswer, ToldHold } from '@/lib/domain/dispatch/days'
import { type MessageKey, messagesIn } from '@/lib/messages/catalogue'
import type { Language } from '@/lib/messages/language'
import { longDateText } from '../wording/dates'
import { wordingFor } from '../wording/units'

type Told = { number: number; way: 'sent' | 'collected'; answer: DispatchAnswer; today: string }

/** What a buyer is written about an order that waits: when, and why. Names no other buyer, animal or price. */
export function buyerWords({ number, way, answer, today }: Told, language: Language): string {
  const say = messagesIn(language, 'order')
  const wording = wordingFor(language, { temperature: 'celsius', length: 'millimetre' }, 'a4')
  const first = answer.days[0]
  const isHeld = !first || first.packOn > today
  const reasons = isHeld
    ? [...new Set(answer.heldUp.filter(isBefore(first?.packOn)).map(({ hold }) => reasonKey(hold)))]
    : []
  const when = first
    ? way === 'collected'
      ? say('collectOn', { date: longDateText(first.packOn, wording) })
      : say('sendOn', {
          date: longDateText(first.packOn, wording),
          arrival: longDateText(first.arriveOn, wording),
        })
    : say('noDay')
  const parts = [...reasons.map((key) => say(key)), when, ...(reasons.length > 0 ? [say('sake')] : [])]
  return `${say('about', { number })}\n\n${parts.join(' ')}`
}

const isBefore =
  (day: string | undefined) =>
  ({ stretches }: DispatchAnswer['heldUp'][number]) =>
    stretches.some(({ from }) => day === undefined || from < day)

function reasonKey(hold: ToldHold): MessageKey<'order'> {
  if (hold.by === 'closed-day') return 'waitClosed'
  if (hold.by === 'box') return 'waitAir'
  if (hold.by === 'line') return 'waitOther'
  if (hold.code === 'moult-expected') return 'waitMoult'
  if (hold.code === 'soft') return 'waitSoft'
  if (hold.code === 'temperature') return 'waitAir'
  return hold.code === 'too-young' ? 'waitYoung' : 'waitOther'
}
