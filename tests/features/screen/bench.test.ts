import { describe, expect, it } from 'vitest'
import { sayChange } from '@/components/bench/bench-voice'

const counts = { housed: 38, planned: 64, together: 102, dead: 0, escaped: 0 }

describe('the bench says aloud', () => {
  it('every tenth cup, and none between', () => {
    expect(sayChange(counts, { ...counts, housed: 39 })).toBe('')
    expect(sayChange({ ...counts, housed: 39 }, { ...counts, housed: 40 })).toBe('40')
  })

  it('every loss and every taking back', () => {
    expect(sayChange(counts, { ...counts, dead: 1 })).toBe('Dead, 1.')
    expect(sayChange(counts, { ...counts, escaped: 1 })).toBe('Escaped, 1.')
    expect(sayChange({ ...counts, housed: 40 }, { ...counts, housed: 39 })).toBe('Taken back. 39 in cups.')
  })
})
