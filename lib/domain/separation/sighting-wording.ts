import { type InstarNaming, instarLabel } from '../instar/label'
import type { ClutchSighting, MoultedShare } from './sighting'

const WHO: Record<MoultedShare, string> = {
  none: 'none were',
  first: 'the first were',
  some: 'some were',
  most: 'most were',
  all: 'all were',
}

/** "some were at the 3rd instar; 12 hung for that moult; two sizes side by side", or "none were …". */
export function saySighting(seen: ClutchSighting & { note?: string }, naming: InstarNaming): string {
  const { moulted, number, hanging, note } = seen
  const stage = instarLabel(number, naming)
  const said = [
    moulted ? `${WHO[moulted]} at the ${stage}${moulted === 'none' ? ' yet' : ''}` : '',
    hanging ? `${hanging} hung for the moult to the ${stage}` : '',
    seen.sizeGap ? 'two sizes side by side' : '',
    seen.hunger ? 'hungry' : '',
    seen.wingBuds ? 'wing buds' : '',
    seen.refusesFood ? 'refused food' : '',
    note ?? '',
  ]
  return said.filter(Boolean).join('; ')
}
