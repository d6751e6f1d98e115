import Link from 'next/link'
import type { ReactNode } from 'react'

type Props = {
  title: ReactNode
  /** The line of facts under the title. */
  facts?: ReactNode
  /** Where this page hangs: "Clutches". */
  parent?: { href: string; label: string }
  /** At most one of them filled. */
  actions?: ReactNode
}

/** Title, facts, actions, and the one heavy rule of the page. */
export function PageHeader({ title, facts, parent, actions }: Props) {
  return (
    <header className="mb-2 flex flex-wrap items-end justify-between gap-x-6 gap-y-3 border-ink border-b-2 pb-3">
      <div className="min-w-0">
        {parent ? (
          <Link href={parent.href} className="no-print -my-2 inline-block py-2 text-small text-soft">
            {parent.label}
          </Link>
        ) : null}
        <h1>{title}</h1>
        {facts ? <p className="mt-1 text-small text-soft">{facts}</p> : null}
      </div>
      {actions ? <div className="no-print flex flex-wrap gap-2">{actions}</div> : null}
    </header>
  )
}
