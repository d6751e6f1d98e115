import Link from 'next/link'
import { LatinName } from '@/components/ui/latin-name'
import { StateMark } from '@/components/ui/state-mark'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { formatCode } from '@/lib/domain/label/code'
import type { RestingAnimal } from '@/lib/features/day-sheet/data'

type Props = {
  workspace: string
  animals: readonly RestingAnimal[]
  zones: readonly { id: string; name: string }[]
  today: PlainDate
}

/** Who is behind the lines about leaving alone and missed skins: on the same sheet, so that it can be printed. */
export function RestingAnimals({ workspace, animals, zones, today }: Props) {
  const alone = animals.filter(({ state }) => state !== 'overdue')
  const overdue = animals.filter(({ state }) => state === 'overdue')
  const rest = { workspace, zones, today }
  return (
    <>
      {alone.length > 0 ? (
        <section id="alone" className="mt-10 scroll-mt-4">
          <h2>Leave alone</h2>
          <p className="mb-3 text-small text-soft">
            Mist lightly. One small prey; if it is ignored for a day, take it out and offer nothing more.
          </p>
          <Groups animals={alone} {...rest} />
        </section>
      ) : null}
      {overdue.length > 0 ? (
        <section id="skins" className="mt-10 scroll-mt-4">
          <h2>Look for a skin</h2>
          <p className="mb-3 text-small text-soft">
            They have been in this instar longer than nearly all. A moult may have gone unseen.
          </p>
          <Groups animals={overdue} {...rest} />
        </section>
      ) : null}
    </>
  )
}

/** Shelf by shelf, as one walks: those of a kind and a reason stand in one line. */
function Groups({ workspace, animals, zones, today }: Props) {
  const zoneName = new Map(zones.map(({ id, name }) => [id, name]))
  const groups = groupAnimals(animals)
  return (
    <ul className="divide-y divide-line border-line border-y">
      {groups.map(({ key, first, members }) => (
        <li key={key} className="py-3">
          <p className="flex flex-wrap items-baseline gap-x-4">
            <span className="font-semibold">
              {zoneName.get(first.zoneId ?? '') ?? 'Nowhere'}, <LatinName name={first.scientificName} />,{' '}
              {first.stage}
            </span>
            <Why animal={first} today={today} />
          </p>
          <ul className="flex flex-wrap gap-x-5">
            {members.map(({ id, label }) => (
              <li key={id}>
                <Link
                  prefetch={false}
                  href={`/w/${workspace}/individuals/${id}`}
                  className="target inline-flex items-center print:min-h-0"
                >
                  {formatCode(label)}
                </Link>
              </li>
            ))}
          </ul>
        </li>
      ))}
    </ul>
  )
}

type Group = { key: string; first: RestingAnimal; members: RestingAnimal[] }

function groupAnimals(animals: readonly RestingAnimal[]): Group[] {
  const groups = new Map<string, Group>()
  for (const animal of animals) {
    const { zoneId, scientificName, stage, state, softUntil } = animal
    const key = [zoneId, scientificName, stage, state, softUntil].join('|')
    const group = groups.get(key)
    if (group) group.members.push(animal)
    else groups.set(key, { key, first: animal, members: [animal] })
  }
  return [...groups.values()].sort((a, b) => a.key.localeCompare(b.key))
}

function Why({ animal: { state, softUntil }, today }: { animal: RestingAnimal; today: PlainDate }) {
  if (state === 'overdue') return <StateMark state="fine" word="longer than nearly all" />
  const word = softUntil ? `soft until ${writeDay(softUntil, today)}` : 'may well moult by tomorrow'
  return <StateMark state="leave-alone" word={word} />
}
