import { type ChildProcess, spawn } from 'node:child_process'
import { describe, expect, it } from 'vitest'
import { createDayMail } from '@/lib/features/day-mail/mutations'
import { env } from '@/lib/platform/env'
import type { Scope } from '@/lib/platform/workspace'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { type MailMoment, withMailServer } from '@/tests/support/mail-server'
import { makeMember, makeWorkspace, within } from '@/tests/support/workspaces'

const database = requireDatabase()

/** The jobs as a process of their own, as they run beside the service. */
function startJobsProcess(smtpUrl: string): ChildProcess {
  return spawn(process.execPath, ['--import', 'tsx', 'lib/ops/jobs.ts'], {
    env: { ...process.env, ...database.environment, SMTP_URL: smtpUrl },
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  })
}

const gone = (child: ChildProcess) => new Promise((resolve) => child.once('exit', resolve))

/** The day sheet of one reader more, written and ordered to be sent, as it is every morning. */
async function writeDayMail(owner: Scope): Promise<void> {
  const reader = await makeMember(owner, 'keeper')
  await within(reader, async (tx, workspace) => {
    const { workspaceId } = workspace
    await tx.dayMail.create({ data: { workspaceId, personId: String(reader.personId), hour: 7 } })
    expect(await createDayMail(tx, { scope: reader, workspace })).toEqual({ isWritten: true })
    expect(await createDayMail(tx, { scope: reader, workspace })).toEqual({ isWritten: false })
  })
}

async function untilSent(count: number): Promise<void> {
  const asked = `select count(*)::int as sent from mail_message where sent_at is not null`
  for (let attempt = 0; attempt < 300; attempt += 1) {
    const sent = await withClient(
      database.urls.backup,
      async (client) => (await client.query(asked)).rows[0].sent,
    )
    if (sent === count) return
    await new Promise((resolve) => setTimeout(resolve, 200))
  }
  throw new Error(`not all of the ${count} mails were recorded as sent within a minute`)
}

describe('the mail of the day sheet', () => {
  it.each([
    { when: 'before any of it was on its way', at: 'begun', copies: 1 },
    { when: 'between its sending and its recording', at: 'here', copies: 2 },
    { when: 'the moment it was taken', at: 'kept', copies: 2 },
  ] as const)(
    'is lost by nobody, and doubled once at most, where the jobs were killed $when',
    async ({ at, copies }) => {
      const owner = await makeWorkspace(`Power cut, ${at}`)
      await withClient(database.urls.jobs, (client) =>
        client.query('delete from graphile_worker._private_jobs'),
      )
      const before = await withClient(database.urls.backup, async (client) =>
        Number(
          (await client.query('select count(*) from mail_message where sent_at is not null')).rows[0].count,
        ),
      )
      for (let reader = 0; reader < 3; reader += 1) await writeDayMail(owner)
      let victim: ChildProcess | undefined
      const strike = (moment: MailMoment) => {
        if (moment === at) victim?.kill('SIGKILL')
      }
      await withMailServer(async (address, letters) => {
        victim = startJobsProcess(address)
        await gone(victim)
        expect(victim.signalCode).toBe('SIGKILL')
        victim = undefined
        const jobs = startJobsProcess(address)
        try {
          await untilSent(before + 3)
        } finally {
          jobs.send({ state: 'stop' })
          await gone(jobs)
        }
        const sent = new Map<string, number>()
        for (const { data } of letters) {
          const id = /^Message-ID: (.*)$/im.exec(data)?.[1] ?? ''
          sent.set(id, (sent.get(id) ?? 0) + 1)
        }
        expect(
          [...sent.keys()].every((id) => id.endsWith(`@${new URL(env().PUBLIC_ADDRESS).hostname}>`)),
        ).toBe(true)
        expect(sent.size).toBe(3)
        expect(Math.max(...sent.values())).toBeLessThanOrEqual(copies)
        expect(letters.length).toBeLessThanOrEqual(3 + 2 * (copies - 1))
        if (at === 'here') expect(letters.length).toBeGreaterThan(3)
      }, strike)
    },
  )
})
