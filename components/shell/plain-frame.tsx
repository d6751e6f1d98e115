import type { ReactNode } from 'react'

/** Pages outside a workspace: signing in, an invitation, the page behind a printed code. */
export function PlainFrame({ children, aside }: { children: ReactNode; aside?: ReactNode }) {
  return (
    <div className="mx-auto flex min-h-dvh max-w-[44rem] flex-col px-4 py-6 desk:py-12 print:min-h-0 print:p-0">
      <header className="no-print flex flex-wrap items-baseline justify-between gap-4 pb-8">
        <p className="font-name font-semibold text-name">Oothecary</p>
        {aside}
      </header>
      <main id="main" className="flex-1">
        {children}
      </main>
    </div>
  )
}
