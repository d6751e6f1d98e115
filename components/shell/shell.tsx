import type { ReactNode } from 'react'
import { MorePlaces } from './more-places'
import { listAllowedPlaces, type Place, splitForPhone } from './navigation'
import { PlaceLink } from './place-link'

type Props = {
  places: readonly Place[]
  permissions: readonly string[]
  /** Name of the workspace, or the menu that changes it. */
  workspace: ReactNode
  /** Opens what a label stands for: at the head of a phone, under the places on a desk. */
  scan?: ReactNode
  /** Light, person, signing out: in the foot of the rail on a desk, behind "More" on a phone. */
  personal: ReactNode
  /** What cannot wait, on every page. */
  alarm?: ReactNode
  children: ReactNode
}

/**
 * The frame of every page inside a workspace: a rail beside it on a desk, a bar under the thumb on a phone.
 * It shows and hides places; whether someone may see what is there is decided by the page.
 */
export function Shell({ places, permissions, workspace, scan, personal, alarm, children }: Props) {
  const allowed = listAllowedPlaces(places, permissions)
  const { bar, more } = splitForPhone(allowed)
  return (
    <div className="desk:grid desk:min-h-dvh desk:grid-cols-[188px_minmax(0,1fr)] print:block">
      <a
        href="#main"
        className="no-print target fixed start-2 top-2 z-50 -translate-y-24 rounded-edge bg-ink px-4 py-2.5 font-semibold text-sheet focus:translate-y-0"
      >
        To the content
      </a>
      <header className="no-print hidden border-line border-e desk:block">
        {/* The places scroll where they are more than fit; signing out stays in reach. */}
        <div className="sticky top-0 flex h-dvh flex-col px-3 py-6">
          <p className="px-2.5 font-name font-semibold text-name">Oothecary</p>
          <div className="mt-1 px-2.5 text-small text-soft">{workspace}</div>
          <div className="-mx-3 mt-3 min-h-24 flex-1 overflow-y-auto px-3 py-1">
            <nav aria-label="Workspace" className="flex flex-col">
              {allowed.map((place) => (
                <PlaceLink key={place.href} place={place} places={allowed} look="rail" />
              ))}
            </nav>
            <div className="mt-2 -ms-1.5">{scan}</div>
          </div>
          <div className="shrink-0 space-y-3 border-line border-t px-0.5 pt-3">{personal}</div>
        </div>
      </header>
      <header className="no-print flex items-center justify-between gap-3 border-line border-b py-0.5 ps-4 desk:hidden">
        <p className="font-name font-semibold text-lead">Oothecary</p>
        <div className="min-w-0 flex-1 truncate text-end text-small text-soft">{workspace}</div>
        <div className="shrink-0 empty:hidden">{scan}</div>
      </header>
      <div className="min-w-0">
        {alarm}
        <main
          id="main"
          tabIndex={-1}
          className="mx-auto w-full max-w-[70rem] px-4 pt-5 pb-28 outline-none desk:px-[34px] desk:pt-7 desk:pb-16 print:max-w-none print:p-0"
        >
          {children}
        </main>
      </div>
      <nav
        aria-label="Workspace, short"
        className="no-print fixed inset-x-0 bottom-0 z-30 flex min-h-15 items-stretch border-line border-t bg-ground pb-[env(safe-area-inset-bottom)] desk:hidden"
      >
        {bar.map((place) => (
          <PlaceLink key={place.href} place={place} places={allowed} look="bar" />
        ))}
        <MorePlaces more={more} places={allowed}>
          {personal}
        </MorePlaces>
      </nav>
    </div>
  )
}
