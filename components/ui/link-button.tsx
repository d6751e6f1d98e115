import { clsx } from 'clsx'
import Link from 'next/link'
import type { ComponentProps } from 'react'
import { type ButtonStyle, buttonStyle } from './button-style'

type Props = ComponentProps<typeof Link> & ButtonStyle

/** Goes somewhere, and looks like the buttons that do something. */
export function LinkButton({ kind, isWide, className, ...rest }: Props) {
  return <Link className={clsx(buttonStyle({ kind, isWide }), className)} {...rest} />
}
