import Link from 'next/link'

const PLACES = [
  { path: '', label: 'Receipts' },
  { path: '/counter', label: 'Counter' },
  { path: '/buyers', label: 'Buyers' },
  { path: '/holds', label: 'Held and wished for' },
  { path: '/for-sale', label: 'For sale' },
  { path: '/prices', label: 'Prices' },
  { path: '/registers', label: 'Registers' },
]

/** The pages of selling, from each of them. */
export function SalesPlaces({ workspace, current }: { workspace: string; current: string }) {
  return (
    <nav aria-label="Sales pages" className="no-print -mx-2 flex flex-wrap">
      {PLACES.map(({ path, label }) => (
        <Link
          key={path}
          href={`/w/${workspace}/sales${path}`}
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
