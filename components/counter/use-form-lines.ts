'use client'

import { useEffect } from 'react'
import { useFormContext } from 'react-hook-form'

type Line = Record<string, unknown>

/**
 * Keeps the lines of the form in step with what lies on the counter: what was typed into a line stays when another
 * one joins or goes.
 */
export function useFormLines(
  name: 'lines' | 'stock',
  lines: readonly Line[],
  keyOf: (line: Line) => unknown,
) {
  const { getValues, setValue } = useFormContext()
  const wanted = JSON.stringify(lines)
  // biome-ignore lint/correctness/useExhaustiveDependencies: `wanted` is the lines, by their content
  useEffect(() => {
    const before: Line[] = getValues(name) ?? []
    setValue(
      name,
      lines.map((line) => {
        const known = before.find((other) => keyOf(other) === keyOf(line))
        return known ? { ...line, ...known, ...fixedOf(line) } : line
      }),
    )
  }, [wanted, name, getValues, setValue])
}

/** What the counter says and nobody types. */
function fixedOf({ isAdvisedAgainst, isKeptBack }: Line): Line {
  return isAdvisedAgainst === undefined ? {} : { isAdvisedAgainst, isKeptBack }
}
