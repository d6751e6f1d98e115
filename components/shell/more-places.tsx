'use client'

import { clsx } from 'clsx'
import { usePathname } from 'next/navigation'
import { type ReactNode, useState } from 'react'
import { Dialog } from '../ui/dialog'
import { isCurrentPlace, type Place } from './navigation'
import { PlaceLink } from './place-link'

type Props = { more: readonly Place[]; places: readonly Place[]; children: ReactNode }

/** The rest of the places and everything personal, in a sheet from the lower edge. */
export function MorePlaces({ more, places, children }: Props) {
  const [isOpen, setOpen] = useState(false)
  const pathname = usePathname()
  const holdsCurrent = more.some((place) => isCurrentPlace(place, pathname, places))
  return (
    <>
      <button
        type="button"
        aria-haspopup="dialog"
        aria-expanded={isOpen}
        onClick={() => setOpen(true)}
        className={clsx(
          'target flex h-full flex-1 flex-col items-center justify-center border-t-[3px] px-0.5 text-fine-print leading-tight',
          holdsCurrent ? 'border-ink font-semibold text-ink' : 'border-transparent text-soft',
        )}
      >
        More
      </button>
      <Dialog isOpen={isOpen} onOpenChange={setOpen} place="sheet" title="More">
        <nav aria-label="More places" className="-mx-5">
          {more.map((place) => (
            <PlaceLink
              key={place.href}
              place={place}
              places={places}
              look="sheet"
              onFollow={() => setOpen(false)}
            />
          ))}
        </nav>
        <div className="mt-4 space-y-4 border-line border-t pt-4">{children}</div>
      </Dialog>
    </>
  )
}
