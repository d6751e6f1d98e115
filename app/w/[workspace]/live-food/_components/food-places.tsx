import Link from 'next/link'

const PLACES = [
  { path: '', label: 'Needed and coming' },
  { path: '/plan', label: 'Plan' },
  { path: '/cultures', label: 'Jars' },
  { path: '/prey', label: 'Prey lines' },
  { path: '/bounds', label: 'Others, days, limits' },
]

/** The pages of live food, from each of them. */
export function FoodPlaces({ workspace, current }: { workspace: string; current: string }) {
  return (
    <nav aria-label="Live food" className="no-print -mx-2 flex flex-wrap">
      {PLACES.map(({ path, label }) => (
        <Link
          key={path}
          href={`/w/${workspace}/live-food${path}`}
          prefetch={false}
          aria-current={path === current ? 'page' : undefined}
          className="target inline-flex items-center px-2 text-small aria-[current=page]:font-semibold aria-[current=page]:no-underline"
        >
          {label}
        </Link>
      ))}
    </nav>
  )
}
