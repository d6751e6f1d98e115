import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import {
  adultFemale,
  adultPair,
  bareRecord,
  eggCase,
  hatchling,
  longNote,
  longWords,
  lotOfTen,
  orchidNymph,
  otherInvertebrate,
  otherScripts,
} from '../sheet-samples'

const AMERICAN = { temperature: 'fahrenheit', length: 'inch' } as const

/** The cases a sheet has to look right in, by the name of their picture. */
export const EXAMPLES: Readonly<Record<string, CareSheetPayload>> = {
  'nymph-a4-en': orchidNymph({ country: 'GB' }),
  'nymph-a5-de': orchidNymph({ language: 'de', paper: 'a5', country: 'DE' }),
  'hatchling-letter-en': hatchling({ paper: 'letter', units: AMERICAN, country: 'US' }),
  'adult-a4-fr': adultFemale({ language: 'fr', country: 'FR' }),
  'adult-reprinted-letter-es': adultFemale({
    language: 'es',
    paper: 'letter',
    reprint: { firstOn: '2026-11-02', profileVersion: 2 },
  }),
  'egg-case-a4-nl': eggCase({ language: 'nl', country: 'NL' }),
  'egg-case-a5-en': eggCase({ paper: 'a5' }),
  'pair-a4-en': adultPair(),
  'lot-of-ten-a4-de': lotOfTen({ language: 'de', country: 'AT' }),
  'lot-of-ten-a5-en': lotOfTen({ paper: 'a5' }),
  'other-animal-a4-en': otherInvertebrate({ country: 'AU' }),
  'little-known-a4-en': bareRecord(),
  'long-words-a4-de': longWords({ language: 'de' }),
  'long-words-a5-fr': longWords({ language: 'fr', paper: 'a5' }),
  'forty-lines-a5-en': longNote({ paper: 'a5' }),
  'other-scripts-a4-en': otherScripts(),
}
