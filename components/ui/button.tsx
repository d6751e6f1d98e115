import { clsx } from 'clsx'
import type { ComponentProps } from 'react'
import { type ButtonStyle, buttonStyle } from './button-style'

type Props = ComponentProps<'button'> & ButtonStyle & { isBusy?: boolean }

/**
 * While busy the button keeps its focus and its place: a disabled button would drop the focus of someone on
 * a keyboard. Whoever handles the press ignores the second one.
 */
export function Button({ kind, isWide, isBusy, className, type = 'button', children, ...rest }: Props) {
  return (
    <button
      type={type}
      aria-disabled={isBusy || undefined}
      className={clsx(buttonStyle({ kind, isWide }), className)}
      {...rest}
    >
      {children}
    </button>
  )
}
