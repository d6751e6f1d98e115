import { describe, expect, test } from 'vitest'
import {
  listKeptBack,
  mayOverride,
  OVERRIDABLE,
  SAFE_OVERRIDES,
  sayWhomToAsk,
} from '@/lib/domain/role/overrides'

const against = (...codes: string[]) => codes.map((code) => ({ code, message: code }))
const namesOf = (blocks: { code: string }[]) => blocks.map(({ code }) => code)

describe('who may let an animal leave all the same', () => {
  test('is the owner always, and nobody where it is not here', () => {
    const nothing = { keeper: [], counter: [] }
    for (const code of OVERRIDABLE) expect([code, mayOverride('owner', code, nothing)]).toEqual([code, true])
    for (const role of ['owner', 'keeper', 'counter', 'viewer'] as const)
      expect([role, mayOverride(role, 'gone', SAFE_OVERRIDES)]).toEqual([role, false])
  })

  test('is at the counter, unless it was set otherwise, for what concerns the buyer and not the animal', () => {
    expect(OVERRIDABLE.filter((code) => mayOverride('counter', code, SAFE_OVERRIDES))).toEqual([
      'too-young-for-beginner',
      'reserved',
    ])
    expect(OVERRIDABLE.every((code) => mayOverride('keeper', code, SAFE_OVERRIDES))).toBe(true)
    expect(OVERRIDABLE.some((code) => mayOverride('viewer', code, SAFE_OVERRIDES))).toBe(false)
  })

  test('follows the setting of the workspace', () => {
    const rules = { keeper: ['too-young'], counter: ['quarantine'] } as const
    expect(mayOverride('counter', 'quarantine', rules)).toBe(true)
    expect(mayOverride('counter', 'too-young-for-beginner', rules)).toBe(false)
    expect(mayOverride('keeper', 'quarantine', rules)).toBe(false)
  })
})

describe('an animal is kept back', () => {
  const known = { role: 'counter' as const, rules: SAFE_OVERRIDES, cleared: [] }

  test('by what the role may not override, and by nothing that is advice alone', () => {
    const blocks = against('moult-expected', 'too-young-for-beginner', 'quarantine')
    expect(namesOf(listKeptBack(blocks, known))).toEqual(['moult-expected', 'quarantine'])
    expect(listKeptBack(blocks, { ...known, role: 'owner' })).toEqual([])
    expect(listKeptBack(against('gone'), known)).toEqual([])
  })

  test('until somebody has cleared just that', () => {
    const blocks = against('moult-expected', 'quarantine')
    expect(namesOf(listKeptBack(blocks, { ...known, cleared: ['moult-expected'] }))).toEqual(['quarantine'])
    expect(listKeptBack(blocks, { ...known, cleared: ['moult-expected', 'quarantine'] })).toEqual([])
  })

  test('and it is said who can be asked', () => {
    expect(sayWhomToAsk(['quarantine'], SAFE_OVERRIDES)).toBe('Ask a keeper or the owner')
    const strict = { keeper: ['too-young'], counter: [] } as const
    expect(sayWhomToAsk(['too-young'], strict)).toBe('Ask a keeper or the owner')
    expect(sayWhomToAsk(['too-young', 'quarantine'], strict)).toBe('Ask the owner')
  })
})
