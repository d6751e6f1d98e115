import { messagesIn } from '@/lib/messages/catalogue'
import { longDateText } from '../wording/dates'
import { wordingFor } from '../wording/units'
import { joined, latinText, shorten } from './parts'
import type { CareSheetPayload } from './payload'

/** What holds on the day somebody opens the page: the one question they came with. */
export type SheetToday = {
  heading: string
  sentences: { text: string; isHush: boolean }[]
  calendarLabel: string | null
}

/** From the same windows as the calendar; nothing where none are known. Pure. */
export function sheetToday(payload: CareSheetPayload): SheetToday {
  const wording = wordingFor(payload.language, payload.units, payload.paper)
  const say = messagesIn(payload.language, 'careSheet')
  const today = payload.calendar?.find(({ on }) => on === payload.printedOn)
  const isAdult = payload.animal.stage?.isAdult === true
  const mayCome = today?.kind === 'moult'
  const isSoft = Boolean(payload.moult?.softUntilOn && payload.moult.softUntilOn > payload.printedOn)
  const hatchOrMoult = payload.eggCase
    ? say(mayCome ? 'todayHatch' : 'todayHatchQuiet')
    : say(mayCome ? 'todayWindow' : 'todayQuiet')
  const isKnown = today !== undefined && !isAdult
  return {
    heading: say('todayHeading', { date: longDateText(payload.printedOn, wording) }),
    sentences: joined([
      isSoft && { text: say('todaySoft'), isHush: true },
      isKnown && !isSoft && { text: hatchOrMoult, isHush: mayCome },
      today?.kind === 'feed' && { text: say('todayFeed'), isHush: false },
    ]),
    calendarLabel: payload.calendar?.length ? say('toCalendar') : null,
  }
}

/** What the animal is called in somebody's calendar. */
export function calendarName({ species, animal }: CareSheetPayload): string {
  return `${shorten(species.commonName, 60) ?? latinText(species.scientificName)} ${animal.labelCode}`
}
