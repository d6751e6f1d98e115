import { type Fact, FactList } from '@/components/ui/fact-list'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { BuyerPage } from '@/lib/features/buyer/loaders'
import { isLanguage, LANGUAGE_NAMES } from '@/lib/messages/language'

const EXPERIENCE_WORDS = { unknown: '', beginner: 'a beginner', experienced: 'experienced' }

/** What is known of a buyer; what is not known is left out. */
export function BuyerFacts({ page }: { page: BuyerPage }) {
  const { buyer, today } = page
  const { keepConsentOn, newsConsentOn } = buyer
  const facts: Fact[] = [
    { term: 'Mail', value: buyer.email },
    { term: 'Phone', value: buyer.phone },
    {
      term: 'Address',
      value: buyer.address ? <span className="whitespace-pre-line">{buyer.address}</span> : '',
    },
    { term: 'Country', value: buyer.country },
    { term: 'Language', value: isLanguage(buyer.language) ? LANGUAGE_NAMES[buyer.language] : '' },
    { term: 'Keeps mantises', value: EXPERIENCE_WORDS[buyer.experience] },
    { term: 'Note', value: buyer.note },
  ].filter(({ value }) => value !== '')
  const consent = [
    {
      term: 'Kept on record',
      value: keepConsentOn ? `agreed on ${writeDay(keepConsentOn, today)}` : 'not agreed',
    },
    {
      term: 'Told what is for sale',
      value: newsConsentOn ? `agreed on ${writeDay(newsConsentOn, today)}` : 'not agreed',
    },
  ]
  return (
    <div className="mt-4 max-w-xl">
      <FactList facts={[...facts, ...consent]} />
    </div>
  )
}
