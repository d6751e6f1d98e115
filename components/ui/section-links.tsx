import Link from 'next/link'

type Props = {
  /** Says what the pages have in common, for those who hear it. */
  label: string
  /** Where the section begins; each page's path is added to it. */
  base: string
  pages: readonly { path: string; label: string }[]
  current: string
}

/** The pages of one section, from each of them. */
export function SectionLinks({ label: section, base, pages, current }: Props) {
  return (
    <nav aria-label={section} className="no-print -mx-2 flex flex-wrap">
      {pages.map(({ path, label }) => (
        <Link
          key={path}
          href={`${base}${path}`}
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
