import { describe, expect, test } from 'vitest'
import { listPapersInWords, sayPaper } from '@/lib/domain/paper/paper'

describe('a paper', () => {
  test('is said with its kind, its number and the day that stands on it', () => {
    const paper = { kind: 'proof_of_origin', number: 'DE-12', on: '2026-03-03' } as const
    expect(sayPaper(paper)).toBe('Proof of origin DE-12, 3 Mar 2026')
    expect(sayPaper(paper, '2026-11-01')).toBe('Proof of origin DE-12, 3 Mar')
  })

  test('whose number went with a person still says what it was and of which day', () => {
    expect(sayPaper({ kind: 'crossing', number: '', on: '2025-12-31' })).toBe(
      'Import or export paper, number erased, 31 Dec 2025',
    )
  })

  test('stands beside others in one cell', () => {
    const papers = [
      { kind: 'permit', number: 'A 1', on: '2026-01-02' },
      { kind: 'health', number: 'none', on: '2026-02-03' },
    ] as const
    expect(listPapersInWords(papers)).toBe('Permit A 1, 2 Jan 2026; Health certificate none, 3 Feb 2026')
    expect(listPapersInWords([])).toBe('')
  })
})
