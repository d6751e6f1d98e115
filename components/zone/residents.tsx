import Link from 'next/link'
import { LatinName } from '@/components/ui/latin-name'
import { writeCount } from '@/lib/domain/calendar/wording'
import type { ZoneResidents } from '@/lib/features/zone/data'

type Props = { workspace: string; zoneId: string; residents: ZoneResidents; title: string; empty: string }

/** Who stands here, each a way to its page. */
export function Residents({ workspace, zoneId, residents, title, empty }: Props) {
  const { animals, clutches, eggCases, cultures } = residents
  const isEmpty = animals.length + clutches.length + eggCases.length + cultures.length === 0
  const base = `/w/${workspace}`
  return (
    <section>
      <h2 className="mb-2">{title}</h2>
      {isEmpty ? (
        <p className="text-soft">{empty}</p>
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
          {cultures.map(({ slug, count }) => (
            <li key={slug} className="flex min-h-11 flex-wrap items-center gap-x-3 py-1">
              {slug.replaceAll('-', ' ')} <span className="text-soft">{writeCount(count, 'jar')}</span>
            </li>
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
