'use client'

import { clsx } from 'clsx'
import type { ReactNode } from 'react'
import { Menu, MenuItem, MenuTrigger, Popover, Button as TriggerButton } from 'react-aria-components'
import { type ButtonStyle, buttonStyle } from './button-style'

export type MenuEntry = {
  id: string
  label: string
  href?: string
  onChoose?: () => void
  isDisabled?: boolean
}

type Props = {
  label: ReactNode
  entries: readonly MenuEntry[]
  kind?: ButtonStyle['kind']
  className?: string
}

/** Further actions of one thing. What is done every day does not belong in here. */
export function MenuButton({ label, entries, kind, className }: Props) {
  return (
    <MenuTrigger>
      <TriggerButton className={clsx(buttonStyle({ kind }), className)}>
        {label}
        <svg viewBox="0 0 12 8" className="h-2 w-3" aria-hidden="true">
          <path d="M1 1l5 5 5-5" fill="none" stroke="currentColor" strokeWidth="1.8" />
        </svg>
      </TriggerButton>
      <Popover
        placement="bottom end"
        className="no-print min-w-48 rounded-edge border border-ink bg-sheet py-1 text-ink outline-none"
      >
        <Menu className="outline-none">
          {entries.map((entry) => (
            <MenuItem
              key={entry.id}
              id={entry.id}
              href={entry.href}
              onAction={entry.onChoose}
              isDisabled={entry.isDisabled}
              className="target flex cursor-pointer items-center px-4 py-2 outline-none data-[focused]:bg-ink data-[disabled]:text-soft data-[focused]:text-sheet"
            >
              {entry.label}
            </MenuItem>
          ))}
        </Menu>
      </Popover>
    </MenuTrigger>
  )
}
