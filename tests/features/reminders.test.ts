import { beforeAll, describe, expect, it } from 'vitest'
import { GET } from '@/app/api/v1/calendar.ics/route'
import {
  createCalendarFeed,
  revokeCalendarFeed,
  updateCalendar,
} from '@/lib/features/calendar-feed/mutations'
import { recordLoss } from '@/lib/features/clutch/mutations'
import { createDayMail, endDayMail, recordDayMail } from '@/lib/features/day-mail/mutations'
import { calendarFeedAddress, listCalendarWorkspaces } from '@/lib/platform/calendar-feed'
import { listDueDayMails } from '@/lib/platform/due-day-mail'
import type { Scope } from '@/lib/platform/workspace'
import { makeClutch, makeEggCase } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack } from '@/tests/support/rack'
import { makeMember, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Reminder lane')
})

async function makeFeed(scope: Scope): Promise<string> {
  return within(scope, async (tx, workspace) => {
    const { id } = await createCalendarFeed(tx, { scope, workspace })
    return calendarFeedAddress(id)
  })
}

async function read(address: string): Promise<{ status: number; type: string | null; text: string }> {
  const answer = await GET(new Request(address))
  const text = (await answer.text()).replaceAll('\r\n ', '')
  return { status: answer.status, type: answer.headers.get('content-type'), text }
}

/** The lines of one entry, by a word in its title. */
function entryOf(text: string, word: string): Record<string, string> {
  const entries = text.split('BEGIN:VEVENT').slice(1)
  const found = entries.find((entry) => entry.includes(word)) ?? ''
  return Object.fromEntries(
    found
      .split('\r\n')
      .filter((line) => line.includes(':'))
      .map((line) => [line.split(/[:;]/)[0] ?? '', line.slice(line.indexOf(':') + 1)]),
  )
}

const refresh = () => within(rack.owner, (tx, workspace) => updateCalendar(tx, workspace))

describe('a calendar', () => {
  it('tells deadlines and windows under names that stay, moves them with a higher sequence and cancels them', async () => {
    const clutch = await makeClutch(rack, { count: 40, hatched: 6 })
    await makeEggCase(rack, { laid: 20 })
    const address = await makeFeed(rack.owner)
    const first = await read(address)
    expect([first.status, first.type]).toEqual([200, 'text/calendar; charset=utf-8'])
    const parting = entryOf(first.text, 'Separate clutch')
    expect(parting).toMatchObject({ SEQUENCE: '0', STATUS: 'CONFIRMED' })
    expect(parting?.UID).toMatch(new RegExp(`^separation-${clutch}\\.`))
    const hatch = entryOf(first.text, 'may hatch')
    expect(Number(hatch?.DTEND)).toBeGreaterThan(Number(hatch?.DTSTART))
    expect(await refresh()).toBe(0)
    expect(entryOf((await read(address)).text, 'Separate clutch')).toEqual(parting)

    const lose = (count: number) =>
      within(rack.owner, (tx, workspace) =>
        recordLoss(
          tx,
          { scope: rack.owner, workspace },
          {
            clutch,
            on: rack.today,
            count,
            to: 'dead',
            cause: 'unknown',
            note: '',
          },
        ),
      )
    await lose(20)
    expect(await refresh()).toBe(1)
    const moved = entryOf((await read(address)).text, 'Separate clutch')
    expect(moved).toMatchObject({ UID: parting?.UID, SEQUENCE: '1', STATUS: 'CONFIRMED' })

    await lose(20)
    await refresh()
    const gone = entryOf((await read(address)).text, 'Separate clutch')
    expect(gone).toMatchObject({ UID: parting?.UID, SEQUENCE: '2', STATUS: 'CANCELLED' })
    expect(await refresh()).toBe(0)
  })

  it('is a person’s own: a new address ends the old one, and none works without their place here', async () => {
    const keeper = await makeMember(rack.owner, 'viewer')
    const [old, fresh] = [await makeFeed(keeper), await makeFeed(keeper)]
    expect([(await read(old)).status, (await read(fresh)).status]).toEqual([404, 200])
    expect(await listCalendarWorkspaces()).toContain(rack.owner.workspaceId)
    await endMembership(keeper)
    expect((await read(fresh)).status).toBe(404)
    const another = await makeMember(rack.owner, 'counter')
    const address = await makeFeed(another)
    await within(another, (tx, workspace) => revokeCalendarFeed(tx, { scope: another, workspace }))
    expect((await read(address)).status).toBe(404)
  })

  it('stays shut where the workspace asks for a second factor that its reader lacks', async () => {
    const strict = await makeRack('Strict lane')
    const address = await makeFeed(strict.owner)
    expect((await read(address)).status).toBe(200)
    await within(strict.owner, (tx, { workspaceId }) =>
      tx.workspace.update({ where: { workspaceId }, data: { requiresSecondFactor: true } }),
    )
    expect((await read(address)).status).toBe(404)
  })
})

async function endMembership({ workspaceId, personId }: Scope): Promise<void> {
  await within(rack.owner, (tx) =>
    tx.membership.updateMany({
      where: { workspaceId, personId: String(personId) },
      data: { endedAt: new Date() },
    }),
  )
}

describe('the day sheet by mail', () => {
  const at = async (instant: string, of: Scope) =>
    (await listDueDayMails(new Date(instant), 1000)).some(
      ({ workspaceId, personId }) => workspaceId === of.workspaceId && personId === of.personId,
    )
  const setHour = (scope: Scope, hour: number, version = 0) =>
    within(scope, (tx, workspace) => recordDayMail(tx, { scope, workspace }, { version, hour }))
  const setLast = (scope: Scope, lastOn: string | null) =>
    within(scope, (tx, { workspaceId }) =>
      tx.dayMail.updateMany({
        where: { workspaceId, personId: String(scope.personId) },
        data: { lastOn: lastOn === null ? null : new Date(`${lastOn}T00:00:00Z`) },
      }),
    )

  it('is due at the hour of the workspace’s own clock, also on the two days that have 23 and 25 hours', async () => {
    const person = await makeMember(rack.owner, 'keeper')
    await setHour(person, 2)
    await setLast(person, null)
    // Berlin is an hour ahead in winter, two in summer.
    expect(await at('2026-12-01T00:59:00Z', person)).toBe(false)
    expect(await at('2026-12-01T01:00:00Z', person)).toBe(true)
    expect(await at('2026-06-30T23:59:00Z', person)).toBe(false)
    expect(await at('2026-07-01T00:00:00Z', person)).toBe(true)
    // In the night of 28 March 2027 two o’clock is left out: three comes after one.
    await setLast(person, '2027-03-27')
    expect(await at('2027-03-28T00:59:00Z', person)).toBe(false)
    expect(await at('2027-03-28T01:00:00Z', person)).toBe(true)
    // In the night of 31 October 2027 it comes twice; the day that was written for is over with the first.
    await setLast(person, '2027-10-30')
    expect(await at('2027-10-31T00:00:00Z', person)).toBe(true)
    await setLast(person, '2027-10-31')
    expect(await at('2027-10-31T01:00:00Z', person)).toBe(false)
  })

  it('is written once for a day, however many ask at the same time, and says where to stop it', async () => {
    const person = await makeMember(rack.owner, 'keeper')
    await setHour(person, 0)
    await setLast(person, null)
    const write = () => within(person, (tx, workspace) => createDayMail(tx, { scope: person, workspace }))
    const written = await Promise.all(Array.from({ length: 8 }, write))
    expect(written.filter(({ isWritten }) => isWritten)).toHaveLength(1)
    const { email } = await within(rack.owner, (tx, { workspaceId }) =>
      tx.membership.findFirstOrThrow({ where: { workspaceId, personId: String(person.personId) } }),
    )
    const mails = await within(rack.owner, (tx, { workspaceId }) =>
      tx.mailMessage.findMany({ where: { workspaceId, toAddress: email } }),
    )
    expect(mails).toHaveLength(1)
    expect(mails[0]?.body).toContain(`/w/${rack.owner.slug}/reminders`)
    expect(mails[0]?.html).toContain('<html lang="en">')
  })

  it('leaves nothing where the work dies half way: the next one writes it', async () => {
    const person = await makeMember(rack.owner, 'keeper')
    await setHour(person, 0)
    await setLast(person, null)
    await expect(
      within(person, async (tx, workspace) => {
        await createDayMail(tx, { scope: person, workspace })
        throw new Error('killed')
      }),
    ).rejects.toThrow('killed')
    const again = await within(person, (tx, workspace) => createDayMail(tx, { scope: person, workspace }))
    expect(again.isWritten).toBe(true)
  })

  it('begins tomorrow where the hour has passed, changes only what was on screen, and ends', async () => {
    const person = await makeMember(rack.owner, 'viewer')
    await setHour(person, 0)
    expect(await at(new Date().toISOString(), person)).toBe(false)
    await expect(setHour(person, 5)).rejects.toMatchObject({ code: 'stale' })
    await setHour(person, 23, 1)
    await within(person, (tx, workspace) => endDayMail(tx, { scope: person, workspace }, { version: 2 }))
    await setLast(person, null)
    expect(await at('2026-12-01T23:30:00Z', person)).toBe(false)
    const taken = await within(person, (tx, workspace) => createDayMail(tx, { scope: person, workspace }))
    expect(taken.isWritten).toBe(false)
  })

  it('goes to nobody who has left', async () => {
    const person = await makeMember(rack.owner, 'keeper')
    await setHour(person, 0)
    await setLast(person, null)
    expect(await at('2026-12-01T12:00:00Z', person)).toBe(true)
    await endMembership(person)
    expect(await at('2026-12-01T12:00:00Z', person)).toBe(false)
  })
})
