import { cva, type VariantProps } from 'class-variance-authority'

/**
 * `filled` is the one thing a view is for and stands once in it. `hand` is the same for what must be done now.
 * `plain` is every other action, `quiet` what should not ask for attention.
 */
export const buttonStyle = cva(
  'target inline-flex items-center justify-center gap-2 rounded-edge border px-4 py-2 text-center font-semibold text-small leading-tight no-underline transition-colors disabled:border-line disabled:bg-transparent disabled:text-soft aria-disabled:opacity-70',
  {
    variants: {
      kind: {
        filled: 'border-ink bg-ink text-sheet hover:border-soft hover:bg-soft',
        hand: 'border-hand bg-hand text-on-hand hover:brightness-110',
        plain: 'border-ink bg-transparent text-ink hover:bg-wash',
        quiet: 'border-transparent bg-transparent text-ink underline underline-offset-4 hover:bg-wash',
      },
      isWide: { true: 'w-full', false: '' },
    },
    defaultVariants: { kind: 'plain', isWide: false },
  },
)

export type ButtonStyle = VariantProps<typeof buttonStyle>
