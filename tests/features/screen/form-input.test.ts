import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { dropEmpty, nestMessages, readFigure, resolveWith } from '@/components/ui/form/form-input'
import { nameThrown } from '@/components/ui/form/use-sending'
import { sayIssue } from '@/lib/platform/issue-words'

const hatch = z.strictObject({
  on: z.iso.date(),
  hatched: z.coerce.number<string | number>().int().min(1).max(500),
  temperatureC: z.number().optional(),
  sex: z.enum(['male', 'female']).optional(),
  note: z.string().max(10).optional(),
})

async function check(values: Record<string, unknown>) {
  const resolver = resolveWith(hatch)
  return resolver(values, undefined, { fields: {}, shouldUseNativeValidation: false })
}

describe('what is typed into a form', () => {
  it('reads a temperature with a comma or a point', () => {
    expect(readFigure('26,1')).toBe(26.1)
    expect(readFigure(' 26.1 ')).toBe(26.1)
    expect(readFigure('1 400')).toBe(1400)
  })

  it('keeps what is no figure, so that it is refused and not turned into one', () => {
    expect(readFigure('about 40')).toBe('about 40')
    expect(readFigure('')).toBeUndefined()
  })

  it('sends nothing for an empty box: an empty count is not a count of zero', async () => {
    expect(dropEmpty({ hatched: '', note: '', sex: null, on: '2026-11-24', kept: [0, false] })).toEqual({
      on: '2026-11-24',
      kept: [0, false],
    })
    const { errors } = await check({ on: '2026-11-24', hatched: '' })
    expect(errors.hatched?.message).toBe('Enter a number.')
  })

  it('says at each field what is wrong with it', async () => {
    const { errors } = await check({
      on: '2026-02-31',
      hatched: 501,
      temperatureC: 'warm',
      note: 'x'.repeat(11),
    })
    expect(errors.on?.message).toBe('Enter a day that exists, as year-month-day.')
    expect(errors.hatched?.message).toBe('500 at most.')
    expect(errors.temperatureC?.message).toBe('This is not a number.')
    expect(errors.note?.message).toBe('At most 10 letters.')
  })

  it('passes on what was typed, for the action to parse by itself', async () => {
    const { values, errors } = await check({ on: '2026-11-24', hatched: '46' })
    expect(errors).toEqual({})
    expect(values).toEqual({ on: '2026-11-24', hatched: '46' })
  })

  it('says the same for a choice that was not made', () => {
    const parsed = z.object({ sex: z.enum(['male', 'female']) }).safeParse({}, { error: sayIssue })
    expect(parsed.error?.issues[0]?.message).toBe('Choose one.')
  })

  it('keeps the first message of a field and puts it where the field is', () => {
    const nested = nestMessages([
      { path: 'cups.0.label', message: 'first' },
      { path: 'cups.0.label', message: 'second' },
      { path: '', message: 'whole' },
    ])
    expect(nested).toMatchObject({ cups: [{ label: { message: 'first' } }], root: { message: 'whole' } })
  })
})

describe('a sending that was not answered', () => {
  it('is a lost connection when the browser says so', () => {
    expect(nameThrown(new TypeError('Failed to fetch'), true)).toEqual({ kind: 'connection' })
    expect(nameThrown(new Error('anything'), false)).toEqual({ kind: 'connection' })
  })

  it('is an answer of something else when a proxy replied', () => {
    expect(nameThrown(new Error('An unexpected response was received from the server.'), true)).toEqual({
      kind: 'no-answer',
    })
  })

  it('carries the reference of an error on the server', () => {
    expect(nameThrown(Object.assign(new Error('hidden'), { digest: '2276998587' }), true)).toEqual({
      kind: 'failed',
      reference: '2276998587',
    })
  })
})
