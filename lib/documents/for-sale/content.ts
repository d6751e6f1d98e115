import type { PlainDate } from '@/lib/domain/calendar/date'
import type { InstarNaming } from '@/lib/domain/instar/label'
import { writeMoney } from '@/lib/domain/money/money'
import { messagesIn } from '@/lib/messages/catalogue'
import type { Language } from '@/lib/messages/language'
import { conventionText, sexText, stageText } from '../wording/animal'
import { longDateText } from '../wording/dates'
import { wordingFor } from '../wording/units'

export type ForSalePayload = {
  seller: { name: string; contact: string }
  currency: string
  today: PlainDate
  naming: InstarNaming
  /** whether it says how many there are */
  saysCounts: boolean
  rows: {
    scientificName: string
    moults: number
    isAdult: boolean
    sex: 'male' | 'female' | 'unsexed'
    count: number
    priceMinor: number
  }[]
}

/** What everybody may read who has the address: nothing but what is for sale, and whom to ask. */
export type ForSaleContent = {
  language: Language
  title: string
  seller: string
  asOf: string
  heads: { stage: string; sex: string; available: string; price: string }
  species: {
    scientificName: string
    lines: { stage: string; sex: string; available: string; price: string }[]
  }[]
  /** said instead of a list while nothing is for sale */
  nothing: string
  notes: string[]
  contact: string
}

export function forSaleContent(payload: ForSalePayload, language: Language): ForSaleContent {
  const { seller, currency, today, naming, saysCounts, rows } = payload
  const say = messagesIn(language, 'forSale')
  const wording = wordingFor(language, { temperature: 'celsius', length: 'millimetre' }, 'a4')
  const names = [...new Set(rows.map(({ scientificName }) => scientificName))]
  const lineOf = ({ moults, isAdult, sex, count, priceMinor }: ForSalePayload['rows'][number]) => ({
    stage: stageText({ moults, isAdult, naming }, language),
    sex: sexText({ sex, certainty: sex === 'unsexed' ? 'none' : 'certain' }, language),
    available: saysCounts ? String(count) : say('some'),
    price: writeMoney(priceMinor, currency, language),
  })
  return {
    language,
    title: say('title'),
    seller: seller.name,
    asOf: say('asOf', { date: longDateText(today, wording) }),
    heads: { stage: say('stage'), sex: say('sex'), available: say('available'), price: say('price') },
    species: names.map((scientificName) => ({
      scientificName,
      lines: rows.filter((row) => row.scientificName === scientificName).map(lineOf),
    })),
    nothing: say('nothing'),
    notes: [conventionText(naming, language), say('ask'), say('law')],
    contact: seller.contact,
  }
}
