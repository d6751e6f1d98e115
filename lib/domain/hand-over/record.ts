import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import { formatCode } from '../label/code'
import type { PaperFacts } from '../paper/paper'

/** What goes with an animal when another breeder or shop takes it over: all that was known of it, and from whom. */
export type HandedRecord = {
  /** as stored where it came from */
  label: string
  speciesSlug: string
  scientificName: string
  origin: 'bred' | 'bought' | 'wild'
  sex: 'male' | 'female' | 'unsexed'
  sexCertainty: 'none' | 'probable' | 'certain'
  moults: number
  lastMoultOn: PlainDate | null
  adultSinceOn: PlainDate | null
  hatchedOn: PlainDate | null
  /** label of its clutch there: siblings have the same one */
  clutch: string | null
  mated: boolean | null
  /** who it came from before, where it was not bred there */
  supplier: string
  notes: string
  pastMoults: { number: number; on: PlainDate; outcome: 'good' | 'bad' | 'lost_limb'; note: string }[]
  lastFed: { on: PlainDate; prey: string } | null
  /** where its zone stands in quarantine until then */
  quarantineUntil: PlainDate | null
  /** the permits and proofs that came with it; left out of hand-overs of before they were recorded */
  papers?: PaperFacts[]
}

/** Where it comes from, in one sentence for a register and a sheet: "bred by Larch Lane, hatched 3 Oct 2026, there K7Q 97". */
export function sayProvenance(record: HandedRecord, from: string): string {
  const { origin, hatchedOn, clutch, label, supplier } = record
  const source = { bred: `bred by ${from}`, bought: `from ${from}`, wild: `wild-caught, from ${from}` }[
    origin
  ]
  const before = supplier && origin !== 'bred' ? `before that ${supplier}` : ''
  const hatched = hatchedOn ? `hatched ${writeDay(hatchedOn)}${clutch ? ` in ${clutch}` : ''}` : ''
  return [source, before, hatched, `there ${formatCode(label)}`].filter(Boolean).join(', ')
}
