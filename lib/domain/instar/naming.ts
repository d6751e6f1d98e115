import type { InstarNaming } from './label'

/** How a workspace names its instars, as its settings store it. */
export type StoredInstarNaming = {
  instarConvention: 'hatchling_is_first' | 'hatchling_is_second'
  instarStyle: 'ordinal' | 'l_number'
}

export function instarNamingOf({ instarConvention, instarStyle }: StoredInstarNaming): InstarNaming {
  return {
    convention: instarConvention === 'hatchling_is_first' ? 'hatchling-is-first' : 'hatchling-is-second',
    style: instarStyle === 'ordinal' ? 'ordinal' : 'l-number',
  }
}
