import Link from 'next/link'

const PLACES = [
  { path: '', label: 'Open' },
  { path: '?state=left', label: 'Left' },
  { path: '?state=cancelled', label: 'Taken back' },
  { path: '/sending', label: 'How we send' },
]

/** The lists of orders, and what bounds their days. */
export function OrderPlaces({ workspace, current }: { workspace: string; current: string }) {
  return (
    <nav aria-label="Order pages" className="no-print -mx-2 flex flex-wrap">
      {PLACES.map(({ path, label }) => (
        <Link
          key={path}
          href={`/w/${workspace}/orders${path}`}
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
