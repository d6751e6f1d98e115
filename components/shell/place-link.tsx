'use client'

import { clsx } from 'clsx'
import Link from 'next/link'
import { usePathname } from 'next/navigation'
import { useEffect, useRef } from 'react'
import { isCurrentPlace, type Place } from './navigation'

type Props = {
  place: Place
  /** All places, since the current one is the most exact of those that match. */
  places: readonly Place[]
  look: 'rail' | 'bar' | 'sheet'
  onFollow?: () => void
}

const LOOK = {
  rail: 'border-s-[3px] py-2 ps-2.5 pe-2 text-body',
  bar: 'h-full flex-1 flex-col justify-center border-t-[3px] px-0.5 text-center text-fine-print leading-tight',
  sheet: 'border-s-[3px] px-4 py-3 text-lead',
}

export function PlaceLink({ place, places, look, onFollow }: Props) {
  const isCurrent = isCurrentPlace(place, usePathname(), places)
  const link = useRef<HTMLAnchorElement>(null)
  // On a low screen the rail scrolls: where one is must not be below its fold.
  useEffect(() => {
    if (isCurrent && look === 'rail') link.current?.scrollIntoView({ block: 'nearest' })
  }, [isCurrent, look])
  return (
    <Link
      ref={link}
      href={place.href}
      // Ten places on every page would be ten requests that nobody asked for.
      prefetch={false}
      onClick={onFollow}
      aria-current={isCurrent ? 'page' : undefined}
      className={clsx(
        'target flex items-center no-underline hover:bg-wash hover:text-ink',
        LOOK[look],
        isCurrent ? 'border-ink font-semibold text-ink' : 'border-transparent text-soft',
      )}
    >
      {place.label}
    </Link>
  )
}
