import type { ReactNode } from 'react'

type Props = {
  /** What would stand here, as a sentence. */
  title: ReactNode
  /** The next step, and what it brings. */
  children: ReactNode
  /** One button. */
  action?: ReactNode
}

export function EmptyScreen({ title, children, action }: Props) {
  return (
    <section className="max-w-xl border-line border-y py-10">
      <h2>{title}</h2>
      <div className="mt-2 text-soft">{children}</div>
      {action ? <div className="mt-6">{action}</div> : null}
    </section>
  )
}
