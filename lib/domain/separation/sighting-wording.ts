import { type InstarNaming, instarLabel } from '../instar/label'
import type { ClutchSighting, MoultedShare } from './sighting'

const WHO: Record<MoultedShare, string> = {
  none: 'none were',
  first: 'the first were',
  some: 'some were',
  most: 'most were',
  all: 'all were',
}

/** "some were at the 3rd instar; two sizes side by side", or "none were …". */
export function saySighting(
  { moulted, number, sizeGap, hunger, note }: ClutchSighting & { note?: string },
  naming: InstarNaming,
): string {
  const stage = instarLabel(number, naming)
  const said = [
    `${WHO[moulted]} at the ${stage}${moulted === 'none' ? ' yet' : ''}`,
    sizeGap ? 'two sizes side by side' : '',
    hunger ? 'hungry' : '',
    note ?? '',
  ]
  return said.filter(Boolean).join('; ')
}
