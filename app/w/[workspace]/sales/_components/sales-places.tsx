import Link from 'next/link'

/** `isOpen`: also for who looks after the animals and sells none. */
const PLACES = [
  { path: '', label: 'Receipts' },
  { path: '/counter', label: 'Counter' },
  { path: '/buyers', label: 'Buyers' },
  { path: '/holds', label: 'Held and wished for', isOpen: true },
  { path: '/for-sale', label: 'For sale', isOpen: true },
  { path: '/prices', label: 'Prices', isOpen: true },
  { path: '/registers', label: 'Registers' },
]

type Props = { workspace: string; current: string; maySell?: boolean }

/** The pages of selling, from each of them. */
export function SalesPlaces({ workspace, current, maySell = true }: Props) {
  return (
    <nav aria-label="Sales pages" className="no-print -mx-2 flex flex-wrap">
      {PLACES.filter(({ isOpen }) => maySell || isOpen).map(({ path, label }) => (
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
