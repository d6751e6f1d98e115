import { type Fact, FactList } from '@/components/ui/fact-list'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { IndividualPage } from '@/lib/features/individual/loaders'
import { EditNote } from './edit-note'

const ORIGIN_WORDS = { bred: 'Bred here', bought: 'Bought', wild: 'Wild-caught' } as const

export function AnimalFacts({ workspace, page }: { workspace: string; page: IndividualPage }) {
  const { animal, may } = page
  return (
    <section>
      <h2>About it</h2>
      <div className="mt-2">
        <FactList facts={listFacts(page)} />
      </div>
      {may.write ? (
        <div className="no-print mt-2">
          <EditNote workspace={workspace} animal={animal} />
        </div>
      ) : null}
    </section>
  )
}

function listFacts({ animal, today, zones }: IndividualPage): Fact[] {
  const { hatchedOn, origin, supplier, lastFedOn, lastFedPrey, lastRefusedOn, mated, notes } = animal
  const stay = animal.stays.findLast(({ until }) => until === null)
  const zone = zones.find(({ value }) => value === stay?.zoneId)?.label
  const facts: [string, string | null][] = [
    ['Stands in', stay ? `${stay.kindName}, ${zone ?? 'a zone'}` : null],
    ['Hatched', hatchedOn && writeDay(hatchedOn, today)],
    ['Origin', supplier ? `${ORIGIN_WORDS[origin]}, from ${supplier}` : ORIGIN_WORDS[origin]],
    [origin === 'bred' ? 'By itself since' : 'Here since', writeDay(animal.baselineOn, today)],
    ['Last ate', lastFedOn && `${writeDay(lastFedOn, today)}${lastFedPrey ? `, ${lastFedPrey}` : ''}`],
    ['Last refused', lastRefusedOn && writeDay(lastRefusedOn, today)],
    ['Mated', mated === null ? null : mated ? 'yes' : 'no'],
    ['Notes', notes || null],
  ]
  return facts.flatMap(([term, value]) => (value ? [{ term, value }] : []))
}
