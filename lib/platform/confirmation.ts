import { createHmac, timingSafeEqual } from 'node:crypto'
import { authPool } from '@/lib/platform/auth-database'
import { env } from '@/lib/platform/env'

export const CONFIRMATION_HOURS = 24

type Claim = { personId: string; email: string }

/**
 * 256 bits that follow from the link key, whose address it is and until when the link works. So nothing of it is stored,
 * and without a mail server the link can be shown to the person again.
 */
const markOf = ({ personId, email }: Claim, until: string): Buffer =>
  createHmac('sha256', env().LINK_KEY)
    .update(`confirmation:${personId}:${email.toLowerCase()}:${until}`)
    .digest()

/** The address comes from the settings, never from a request, which anyone may address to another host. */
export function confirmationAddress(claim: Claim): string {
  const until = String(Math.floor(Date.now() / 1000) + CONFIRMATION_HOURS * 3600)
  const token = [claim.personId, until, markOf(claim, until).toString('base64url')].join('.')
  return new URL(`/confirm/${token}`, env().PUBLIC_ADDRESS).href
}

/** What is mailed to an address that somebody has opened an account with. */
export function writeConfirmation(claim: Claim): string {
  return `Somebody, you we hope, opened an account in Oothecary with this address.\n\nOpen this link within ${CONFIRMATION_HOURS} hours and confirm that it is yours. It works once. If it was not you, do nothing: nothing else is sent here.\n\n${confirmationAddress(claim)}\n`
}

const TOKEN = /^([0-9a-f-]{36})\.(\d{10})\.([\w-]{43})$/

/** Whose address an open link confirms. Reading it uses nothing up. */
export async function lookUpConfirmation(token: string): Promise<Claim | undefined> {
  const [, personId = '', until = '', mark = ''] = TOKEN.exec(token) ?? []
  if (Number(until) * 1000 <= Date.now()) return undefined
  const email = await getUnconfirmedAddress(personId)
  const isOurs = email && timingSafeEqual(markOf({ personId, email }, until), Buffer.from(mark, 'base64url'))
  return isOurs ? { personId, email } : undefined
}

/** Confirms the address, once: of several who come with one link the first to change the row wins. */
export async function takeConfirmation(token: string): Promise<'done' | 'spent'> {
  const claim = await lookUpConfirmation(token)
  if (!claim) return 'spent'
  const taken = await authPool().query(
    'update person set confirmed_at = now() where id = $1 and email = $2 and confirmed_at is null',
    [claim.personId, claim.email],
  )
  return taken.rowCount === 1 ? 'done' : 'spent'
}

/** The address of a person who has not confirmed it yet. */
export async function getUnconfirmedAddress(personId: string): Promise<string | undefined> {
  const found = await authPool().query<{ email: string }>(
    'select email::text as email from person where id = $1 and confirmed_at is null',
    [personId],
  )
  return found.rows[0]?.email
}

/** Whether an account that nobody has confirmed stands under this address. */
export async function isUnconfirmedAddress(email: string): Promise<boolean> {
  const found = await authPool().query('select from person where email = $1 and confirmed_at is null', [
    email,
  ])
  return found.rowCount === 1
}
