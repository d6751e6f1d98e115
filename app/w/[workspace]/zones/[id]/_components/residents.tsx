import Link from 'next/link'
import { LatinName } from '@/components/ui/latin-name'
import { writeCount } from '@/lib/domain/calendar/wording'
import type { ZoneResidents } from '@/lib/features/zone/data'

type Props = { workspace: string; zoneId: string; residents: ZoneResidents }

/** Who stands here, each a way to its page. */
export function Residents({ workspace, zoneId, residents }: Props) {
  const { animals, clutches, eggCases } = residents
  const isEmpty = animals.length + clutches.length + eggCases.length === 0
  const base = `/w/${workspace}`
  return (
    <section>
      <h2 className="mb-2">Who lives here</h2>
      {isEmpty ? (
        <p className="text-soft">
          Nothing stands here. Animals, clutches and egg cases are moved here from their own pages.
        </p>
      ) : (
        <ul className="divide-y divide-line border-line border-y">
          {animals.map(({ speciesId, scientificName, count }) => (
            <Row
              key={speciesId}
              href={`${base}/individuals?zone=${zoneId}&species=${speciesId}`}
              name={scientificName}
              said={`${writeCount(count, 'animal')} in cups`}
            />
          ))}
          {clutches.map(({ id, label, scientificName, together }) => (
            <Row
              key={id}
              href={`${base}/clutches/${id}`}
              name={scientificName}
              said={`clutch ${label}, ${together} together`}
            />
          ))}
          {eggCases.map(({ id, label, scientificName }) => (
            <Row key={id} href={`${base}/egg-cases/${id}`} name={scientificName} said={`egg case ${label}`} />
          ))}
        </ul>
      )}
    </section>
  )
}

function Row({ href, name, said }: { href: string; name: string; said: string }) {
  return (
    <li>
      <Link href={href} prefetch={false} className="target flex flex-wrap items-center gap-x-3 py-1">
        <LatinName name={name} />
        <span className="text-soft">{said}</span>
      </Link>
    </li>
  )
}
