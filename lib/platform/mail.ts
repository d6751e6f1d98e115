import { createTransport, type Transporter } from 'nodemailer'
import { env } from '@/lib/platform/env'

export type OutgoingMail = { id: string; to: string; subject: string; text: string; html?: string | null }

const PATIENCE_MS = 10_000
let transporter: Transporter | undefined

export function hasMailServer(): boolean {
  return env().SMTP_URL !== undefined
}

/**
 * Hands a mail to the mail server. The message id follows from the mail's own, so that a mail sent again after a
 * crash is recognised as the same one.
 */
export async function sendMail(mail: OutgoingMail): Promise<void> {
  const from = env().MAIL_FROM
  transporter ??= createTransport(env().SMTP_URL ?? '', { from })
  transporter.set('timeout', PATIENCE_MS)
  const host = new URL(env().PUBLIC_ADDRESS).hostname
  await transporter.sendMail({
    messageId: `<${mail.id}@${host}>`,
    to: { name: '', address: mail.to },
    subject: mail.subject,
    text: mail.text,
    ...(mail.html ? { html: mail.html } : {}),
  })
}

export function closeMail(): void {
  transporter?.close()
  transporter = undefined
}
