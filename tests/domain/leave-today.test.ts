import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { forecastNextMoult } from '@/lib/domain/development/forecast'
import { checkLeaveToday, type LeaveInput } from '@/lib/domain/sale/leave-today'
import { profileOf, steady } from '../cases/profile'

const profile = profileOf('hymenopus-coronatus')

/** A nymph some days after its last moult, in a cup of its own. */
function nymph(daysSinceMoult: number, changes: Partial<LeaveInput> = {}): LeaveInput {
  const today = '2026-11-20'
  const lastMoultOn = addDays(today, -daysSinceMoult)
  const moults = changes.moults ?? 4
  const forecast = forecastNextMoult({
    profile,
    sex: 'female',
    moults,
    isAdult: changes.isAdult,
    instarStartedOn: lastMoultOn,
    history: steady(26),
    today,
  })
  return {
    profile,
    today,
    whereabouts: 'single',
    moults,
    lastMoultOn,
    forecast,
    naming: { convention: 'hatchling-is-first', style: 'ordinal' },
    isForBeginner: false,
    ...changes,
  }
}

const codes = (input: LeaveInput) => checkLeaveToday(input).blocks.map(({ code }) => code)

describe('whether an animal may leave today', () => {
  it('is yes in the middle of an instar', () => {
    expect(checkLeaveToday(nymph(6))).toEqual({ may: true, blocks: [], warnings: [] })
  })

  it('is no while it is soft, and says from when', () => {
    const answer = checkLeaveToday(nymph(1))
    expect(answer.may).toBe(false)
    expect(answer.blocks).toMatchObject([{ code: 'hardening', until: '2026-11-21' }])
    expect(codes(nymph(2))).toEqual([])
    expect(codes(nymph(5, { isAdult: true }))).toEqual(['hardening'])
    expect(codes(nymph(6, { isAdult: true }))).toEqual([])
  })

  it('is no when a moult is likelier than one in ten within three days', () => {
    const answer = checkLeaveToday(nymph(22))
    expect(answer.blocks.map(({ code }) => code)).toEqual(['moult-expected'])
    expect(answer.blocks[0]!.until! > '2026-11-20').toBe(true)
    expect(answer.blocks[0]!.message).toContain('between')
    expect(codes(nymph(22, { settings: { highestMoultChance: 0.99 } }))).toEqual([])
  })

  it('is no for what is already gone, for one reason only', () => {
    for (const whereabouts of ['sold', 'dead', 'escaped', 'given_away', 'unaccounted'] as const) {
      expect(codes(nymph(1, { whereabouts }))).toEqual(['gone'])
    }
    expect(codes(nymph(6, { whereabouts: 'together' }))).toEqual(['not-single'])
  })

  it('is no before the stage of sale, and names the stage in the workspace’s own words', () => {
    const answer = checkLeaveToday(nymph(5, { moults: 1 }))
    expect(answer.blocks.map(({ code }) => code)).toEqual(['too-young'])
    expect(answer.blocks[0]!.message).toContain('2nd instar')
    const renamed = checkLeaveToday(
      nymph(5, { moults: 1, naming: { convention: 'hatchling-is-second', style: 'l-number' } }),
    )
    expect(renamed.blocks[0]!.message).toContain('L3')
  })

  it('warns about beginners where the buyer is not known, and blocks where they are', () => {
    expect(codes(nymph(5, { moults: 1, isForBeginner: true }))).toEqual(['too-young-for-beginner'])
    const unknown = checkLeaveToday(nymph(5, { moults: 1, isForBeginner: undefined }))
    expect(unknown.warnings.map(({ code }) => code)).toEqual(['too-young-for-beginner'])
  })

  it('is no during quarantine and yes on the day after it', () => {
    expect(codes(nymph(6, { quarantineUntil: '2026-11-21' }))).toEqual(['quarantine'])
    expect(codes(nymph(6, { quarantineUntil: '2026-11-20' }))).toEqual([])
  })

  it('tells what the buyer should know without forbidding anything', () => {
    const answer = checkLeaveToday(nymph(6, { isNotEating: true, lastFedOn: '2026-11-20' }))
    expect(answer.may).toBe(true)
    expect(answer.warnings.map(({ code }) => code)).toEqual(['not-eating', 'just-fed'])
  })

  it('says that a moult may have been missed', () => {
    expect(checkLeaveToday(nymph(70)).warnings.map(({ code }) => code)).toContain('moult-overdue')
  })
})
