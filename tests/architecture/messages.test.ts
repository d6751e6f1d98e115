import { describe, expect, it } from 'vitest'
import { loadProject } from './source/project'

const languages = loadProject()
  .map(({ path }) => path)
  .filter((path) => /^lib\/messages\/[a-z]{2}(-[a-z]{2})?\.ts$/.test(path))

/** Every key with what stands there: a text, a function of so many values, a list of so many. */
function listKeys(value: unknown, at = ''): string[] {
  if (typeof value === 'function') return [`${at} (${value.length})`]
  if (Array.isArray(value)) return [`${at} [${value.length}]`]
  if (typeof value !== 'object' || value === null) return [at]
  return Object.entries(value)
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .flatMap(([key, below]) => listKeys(below, at ? `${at}.${key}` : key))
}

async function loadMessages(path: string): Promise<string[]> {
  const exported: Record<string, unknown> = await import(/* @vite-ignore */ `@/${path}`)
  return Object.values(exported)
    .flatMap((messages) => listKeys(messages))
    .sort()
}

describe('the languages', () => {
  it('say the same things, each in its own words', async () => {
    const [first, ...others] = await Promise.all(languages.map(loadMessages))
    for (const other of others) expect(other).toEqual(first)
  })

  it('and a sentence that one of them lacks is noticed', () => {
    expect(listKeys({ sheet: { title: 'a', due: (on: string) => on } })).not.toEqual(
      listKeys({ sheet: { title: 'a' } }),
    )
    expect(listKeys({ due: (on: string) => on })).not.toEqual(listKeys({ due: 'bald' }))
  })
})
