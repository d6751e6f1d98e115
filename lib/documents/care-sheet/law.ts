import { must, type Sentence } from './parts'
import type { Speaker } from './speaker'

// Countries whose rules are named by one sentence; elsewhere the general one stands. A sheet names the kind of duty
// and who decides, never what the rule is: that changes, and differs by species and place.
const EUROPE = new Set(
  'AT BE BG CH CY CZ DE DK EE ES FI FR GR HR HU IE IS IT LI LT LU LV MT NL NO PL PT RO SE SI SK'.split(' '),
)
const STATES = new Set(['US', 'PR'])
const BORDER = new Set(['AU', 'NZ', 'CA', 'JP', 'KR', 'TW', 'SG', 'ZA', 'CL'])

/** The kinds of duty there may be where the seller is, and the authority to ask. */
export function lawSentences({ payload, say }: Speaker): Sentence[] {
  const sentences = [must(say(lawKey(payload.country ?? '')))]
  if (payload.species.legalNote === 'proof-of-origin') sentences.push(must(say('lawProof')))
  return sentences
}

function lawKey(country: string): 'law' | 'lawEurope' | 'lawBritain' | 'lawStates' | 'lawBorder' {
  if (EUROPE.has(country)) return 'lawEurope'
  if (country === 'GB') return 'lawBritain'
  if (STATES.has(country)) return 'lawStates'
  return BORDER.has(country) ? 'lawBorder' : 'law'
}
