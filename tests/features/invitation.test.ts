import { describe, expect, test } from 'vitest'
import { listOpenInvitations } from '@/lib/features/invitation/data'
import { acceptInvitation, createInvitation, revokeInvitation } from '@/lib/features/invitation/mutations'
import { listMails } from '@/lib/features/mail/data'
import { listMembers } from '@/lib/features/membership/data'
import { endMembership } from '@/lib/features/membership/mutations'
import { env } from '@/lib/platform/env'
import { invitationToken, lookUpInvitation } from '@/lib/platform/invitation-link'
import { startJobs } from '@/lib/platform/jobs'
import type { Scope } from '@/lib/platform/workspace'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { withMailServer } from '@/tests/support/mail-server'
import { makePerson, makeWorkspace, within } from '@/tests/support/workspaces'

const database = requireDatabase()

const invite = (owner: Scope, role: 'keeper' | 'counter' = 'keeper', email = 'new@example.test') =>
  within(owner, (tx, workspace) => createInvitation(tx, { scope: owner, workspace }, { email, role }))

describe('an invitation', () => {
  test('brings a person in under the role it names', async () => {
    const owner = await makeWorkspace('Hires a keeper')
    const { id } = await invite(owner)
    const person = await makePerson('New keeper')
    expect(await acceptInvitation(invitationToken(id), person)).toEqual({ slug: owner.slug })
    const members = await within(owner, (tx) => listMembers(tx, owner.workspaceId))
    expect(members.find((member) => member.personId === person.personId)).toMatchObject({
      role: 'keeper',
      name: 'New keeper',
    })
  })

  test('can be looked at as often as one likes and is accepted once', async () => {
    const owner = await makeWorkspace('Looked at')
    const token = invitationToken((await invite(owner)).id)
    for (let look = 0; look < 3; look++)
      expect(await lookUpInvitation(token)).toMatchObject({ role: 'keeper', slug: owner.slug })
    await acceptInvitation(token, await makePerson('First'))
    expect(await lookUpInvitation(token)).toBeUndefined()
    await expect(acceptInvitation(token, await makePerson('Second'))).rejects.toMatchObject({
      code: 'expired',
    })
  })

  test('opened by eight people at once lets one in', async () => {
    const owner = await makeWorkspace('Eight at once')
    const token = invitationToken((await invite(owner)).id)
    const people = await Promise.all(Array.from({ length: 8 }, (_, index) => makePerson(`Guest ${index}`)))
    const outcomes = await Promise.allSettled(people.map((person) => acceptInvitation(token, person)))
    expect(outcomes.filter((outcome) => outcome.status === 'fulfilled')).toHaveLength(1)
    const members = await within(owner, (tx) => listMembers(tx, owner.workspaceId))
    expect(members).toHaveLength(2)
  })

  test('that was taken back, is a week old, or comes from someone who left lets nobody in', async () => {
    const owner = await makeWorkspace('Taken back')
    const person = await makePerson('Too late')
    const { id: revoked } = await invite(owner)
    await within(owner, (tx) => revokeInvitation(tx, owner.workspaceId, revoked))
    const { id: old } = await invite(owner)
    await within(owner, (tx) =>
      tx.invitation.updateMany({
        where: { workspaceId: owner.workspaceId, id: old },
        data: { expiresAt: new Date(Date.now() - 1000) },
      }),
    )
    for (const id of [revoked, old])
      await expect(acceptInvitation(invitationToken(id), person)).rejects.toMatchObject({ code: 'expired' })
    await expect(acceptInvitation('nonsense-that-nobody-sent', person)).rejects.toMatchObject({
      code: 'expired',
    })
    expect(await within(owner, (tx) => listOpenInvitations(tx, owner.workspaceId))).toEqual([])
  })

  test('to someone who works here already is not sent, and does not use up another’s', async () => {
    const owner = await makeWorkspace('Works here')
    const person = await makePerson('Already here')
    await acceptInvitation(invitationToken((await invite(owner)).id), person)
    await expect(invite(owner, 'counter', person.email.toUpperCase())).rejects.toMatchObject({
      code: 'already-recorded',
    })
    const { id } = await invite(owner, 'counter', 'else@example.test')
    await expect(acceptInvitation(invitationToken(id), person)).rejects.toMatchObject({
      code: 'already-recorded',
    })
    expect(await lookUpInvitation(invitationToken(id))).toBeDefined()
  })

  test('brings someone back who had left', async () => {
    const owner = await makeWorkspace('Comes back')
    const person = await makePerson('Seasonal help')
    await acceptInvitation(invitationToken((await invite(owner)).id), person)
    await within(owner, (tx) => endMembership(tx, owner.workspaceId, person.personId))
    await acceptInvitation(invitationToken((await invite(owner, 'counter', 'again@example.test')).id), person)
    const members = await within(owner, (tx) => listMembers(tx, owner.workspaceId))
    expect(members.find((member) => member.personId === person.personId)).toMatchObject({
      role: 'counter',
      endedAt: null,
    })
  })

  test('of another workspace cannot be seen or taken back', async () => {
    const owner = await makeWorkspace('Own invitations')
    const neighbour = await makeWorkspace('Their invitations')
    const { id } = await invite(neighbour)
    await within(owner, async (tx) => {
      expect(await listOpenInvitations(tx, owner.workspaceId)).toEqual([])
      expect(await listMails(tx, owner.workspaceId)).toEqual([])
      await expect(revokeInvitation(tx, owner.workspaceId, id)).rejects.toMatchObject({ code: 'not-found' })
    })
  })

  test('leaves its secret nowhere in the database', async () => {
    const owner = await makeWorkspace('Secret kept')
    const token = invitationToken((await invite(owner)).id)
    const found = await withClient(database.urls.admin, async (client) => {
      const { rows } = await client.query(
        `select count(*)::int as count from (
           select to_jsonb(i)::text as row from invitation i union all select to_jsonb(m)::text from mail_message m
           union all select to_jsonb(a)::text from audit_entry a union all select to_jsonb(o)::text from operation o
         ) as everything where position($1 in row) > 0`,
        [token],
      )
      return rows[0].count
    })
    expect(found).toBe(0)
  })
})

async function until(isSo: () => Promise<boolean> | boolean): Promise<void> {
  for (let attempt = 0; attempt < 200; attempt++) {
    if (await isSo()) return
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
  throw new Error('waited ten seconds for nothing')
}

describe('the mail of an invitation', () => {
  test('is to be read in the service, and is sent once where there is a mail server', async () => {
    const owner = await makeWorkspace('Writes a mail')
    const { id } = await invite(owner, 'counter', 'counter@example.test')
    const readMails = () => within(owner, (tx) => listMails(tx, owner.workspaceId))
    const [waiting] = await readMails()
    expect(waiting).toMatchObject({ to: 'counter@example.test', sentAt: null })
    expect(waiting?.text).toContain(`${env().PUBLIC_ADDRESS}/invitation/${invitationToken(id)}`)
    await withMailServer(async (address, letters) => {
      env().SMTP_URL = address
      const jobs = await startJobs()
      try {
        await until(async () => (await readMails())[0]?.sentAt !== null)
        await within(owner, (tx, { workspaceId }) => {
          const payload = JSON.stringify({ workspaceId, mailId: waiting?.id })
          return tx.$executeRaw`select app.enqueue('send-mail', ${payload}::jsonb)`
        })
        await until(() => noJobsLeft(database.urls.jobs))
      } finally {
        await jobs.stop()
        env().SMTP_URL = undefined
      }
      const own = letters.filter((letter) => letter.to === 'counter@example.test')
      expect(own).toHaveLength(1)
      expect(own[0]?.data.replaceAll('=\n', '')).toContain(invitationToken(id).slice(0, 20))
    })
  })

  test('goes with the invitation when that is not recorded after all', async () => {
    const owner = await makeWorkspace('Changed mind')
    const attempt = within(owner, async (tx, workspace) => {
      await createInvitation(tx, { scope: owner, workspace }, { email: 'never@example.test', role: 'viewer' })
      throw new Error('the line broke')
    })
    await expect(attempt).rejects.toThrow('the line broke')
    expect(await within(owner, (tx) => listMails(tx, owner.workspaceId))).toEqual([])
    const jobs = await withClient(database.urls.jobs, (client) =>
      client.query(
        `select count(*)::int as count from graphile_worker.jobs j join graphile_worker._private_jobs p using (id)
          where p.payload ->> 'workspaceId' = $1 and j.task_identifier = 'send-mail'`,
        [owner.workspaceId],
      ),
    )
    expect(jobs.rows[0].count).toBe(0)
  })
})

async function noJobsLeft(url: string): Promise<boolean> {
  const { rows } = await withClient(url, (client) =>
    client.query(
      "select count(*)::int as count from graphile_worker.jobs where task_identifier = 'send-mail'",
    ),
  )
  return rows[0].count === 0
}
