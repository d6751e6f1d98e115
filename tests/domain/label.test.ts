import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  conventionNote,
  instarLabel,
  instarNumber,
  instarShortLabel,
  moultsOfInstar,
  ordinal,
} from '@/lib/domain/instar/label'
import {
  clutchCode,
  eggCaseCode,
  formatCode,
  individualCode,
  individualCodes,
  isIndividualCode,
  parseCode,
} from '@/lib/domain/label/code'
import { permute } from '@/lib/domain/label/scramble'

const anySequence = fc.integer({ min: 1, max: 19_000_000 })
const anyKey = fc.string({ maxLength: 40 })

describe('label codes', () => {
  it('are different for every one of the first 270,336 animals, and all of one shape', () => {
    const codes = new Set<string>()
    for (let sequence = 1; sequence <= 270_336; sequence += 1)
      codes.add(individualCode(sequence, 'a-workspace'))
    expect(codes.size).toBe(270_336)
    for (const code of codes)
      if (!/^[ABD-HJ-NP-Z][2-9][A-HJ-NP-Z][2-9]{2}$/.test(code) || code.startsWith('E')) throw new Error(code)
  })

  it('go on with a longer code when the short ones are used up, without meeting them', () => {
    expect(individualCode(270_336, 'w')).toHaveLength(5)
    expect(individualCode(270_337, 'w')).toHaveLength(6)
    expect(() => individualCode(0, 'w')).toThrow(RangeError)
    expect(() => individualCode(20_000_000, 'w')).toThrow(RangeError)
  })

  it('are not in order: neighbours rarely share even their first letter', () => {
    const codes = individualCodes({ first: 1, count: 500 }, 'w')
    const sameStart = codes.filter((code, index) => index > 0 && code[0] === codes[index - 1]?.[0]).length
    expect(sameStart).toBeLessThan(60)
    expect([...codes].sort()).not.toEqual(codes)
  })

  it('can be derived for a reserved run by a device without a connection', () => {
    expect(individualCodes({ first: 41, count: 3 }, 'w')).toEqual([
      individualCode(41, 'w'),
      individualCode(42, 'w'),
      individualCode(43, 'w'),
    ])
    expect(individualCode(41, 'w')).not.toBe(individualCode(41, 'another'))
  })

  it('are read back from what is printed', () => {
    fc.assert(
      fc.property(anySequence, anyKey, (sequence, key) => {
        const code = individualCode(sequence, key)
        expect(parseCode(formatCode(code))).toEqual({ status: 'ok', kind: 'individual', code })
      }),
    )
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99_999_999 }), (sequence) => {
        expect(parseCode(formatCode(clutchCode(sequence)))).toEqual({
          status: 'ok',
          kind: 'clutch',
          code: clutchCode(sequence),
        })
        expect(parseCode(formatCode(eggCaseCode(sequence)))).toEqual({
          status: 'ok',
          kind: 'egg-case',
          code: eggCaseCode(sequence),
        })
      }),
    )
  })

  it('are understood in small letters, with dashes and with the usual misreadings', () => {
    expect(formatCode('K7Q97')).toBe('K7Q 97')
    for (const typed of ['k7q97', 'K7Q-97', ' k7q 97 ', 'K7Q.97', 'k7q–97']) {
      expect(parseCode(typed)).toEqual({ status: 'ok', kind: 'individual', code: 'K7Q97' })
    }
    expect(parseCode('87B 97')).toMatchObject({ code: 'B7B97' })
    expect(parseCode('KSB 9Z')).toMatchObject({ code: 'K5B92' })
    expect(parseCode('c31')).toEqual({ status: 'ok', kind: 'clutch', code: 'C-31' })
    expect(parseCode('C-3l')).toMatchObject({ code: 'C-31' })
    expect(parseCode('e 1O')).toMatchObject({ kind: 'egg-case', code: 'E-10' })
    expect(parseCode('C-031')).toMatchObject({ code: 'C-31' })
  })

  it('never look alike: no individual reads as a clutch or an egg case', () => {
    fc.assert(
      fc.property(anySequence, anyKey, (sequence, key) => !/^[CE]/.test(individualCode(sequence, key))),
    )
  })

  it('say why something is no code', () => {
    expect(parseCode('  ')).toEqual({ status: 'unreadable', reason: 'empty' })
    expect(parseCode('K7Q 97 and more')).toEqual({ status: 'unreadable', reason: 'too-long' })
    expect(parseCode('K7I 97')).toEqual({ status: 'unreadable', reason: 'letter-not-used' })
    expect(parseCode('KKKKK')).toEqual({ status: 'unreadable', reason: 'no-such-shape' })
    expect(parseCode('C-0')).toEqual({ status: 'unreadable', reason: 'no-such-shape' })
    fc.assert(fc.property(fc.string(), (text) => ['ok', 'unreadable'].includes(parseCode(text).status)))
    expect(isIndividualCode('k7q97')).toBe(false)
  })

  it('come from a permutation of any range', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 700 }), anyKey, (size, key) => {
        const images = new Set(Array.from({ length: size }, (_, value) => permute(value, size, key)))
        expect(images.size).toBe(size)
        expect(Math.max(...images)).toBe(size - 1)
      }),
      { numRuns: 60 },
    )
    expect(() => permute(5, 5, 'w')).toThrow(RangeError)
  })
})

describe('names of instars', () => {
  it('follow the convention of the workspace and say which', () => {
    const ordinalFirst = { convention: 'hatchling-is-first', style: 'ordinal' } as const
    const numberSecond = { convention: 'hatchling-is-second', style: 'l-number' } as const
    expect(instarLabel(4, ordinalFirst)).toBe('5th instar')
    expect(instarLabel(4, numberSecond)).toBe('L6')
    expect(instarLabel(7, numberSecond, { isAdult: true })).toBe('adult')
    expect(instarShortLabel(0, ordinalFirst)).toBe('1st')
    expect(conventionNote(ordinalFirst)).toBe('hatchling counted as 1st')
    expect(conventionNote(numberSecond)).toBe('hatchling counted as L2')
  })

  it('turn a typed number back into moults', () => {
    for (const convention of ['hatchling-is-first', 'hatchling-is-second'] as const) {
      for (let moults = 0; moults < 10; moults += 1)
        expect(moultsOfInstar(instarNumber(moults, convention), convention)).toBe(moults)
    }
    expect(moultsOfInstar(1, 'hatchling-is-second')).toBeNull()
    expect(moultsOfInstar(2.5, 'hatchling-is-first')).toBeNull()
  })

  it('count 11th, 12th and 13th properly', () => {
    expect([1, 2, 3, 4, 11, 12, 13, 21].map(ordinal)).toEqual([
      '1st',
      '2nd',
      '3rd',
      '4th',
      '11th',
      '12th',
      '13th',
      '21st',
    ])
  })
})
