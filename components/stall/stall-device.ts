import type { StallPart, StallWho } from '@/lib/features/stall/schema'
import { isNotJudged, readAnswers } from '../bench/queue/send'
import { type Asked, ask } from '../offline/ask'
import { Device, type Shown } from '../offline/device'
import {
  forgettingStall,
  type KeptReceipt,
  type KeptStall,
  openStallStore,
  type StallChange,
  type StallStore,
  withForgotten,
} from './stall-store'

export type StallState = KeptStall &
  Shown & {
    isRead: boolean
    /** False where the browser keeps nothing: then nothing can be sold here without a connection. */
    isLasting: boolean
    isSignedOut: boolean
  }

export const NOTHING_KEPT: StallState = {
  ...{ device: '', parts: [], receipts: [], who: null },
  ...{ isRead: false, isLasting: true, isSignedOut: false, isSigningIn: false, connection: 'online' },
}

export type PartWanted = { workspaceId: string; box: string; part: number }

const RETRY_MS = [2_000, 5_000, 15_000, 30_000, 60_000]
const PER_SENDING = 20

const isWho = (body: unknown): body is StallWho =>
  typeof body === 'object' && body !== null && 'person' in body && 'workspaces' in body
const isPart = (body: unknown): body is StallPart =>
  typeof body === 'object' && body !== null && 'part' in body && 'animals' in body

/**
 * The counter of this device at a show. A receipt is kept on disk before it is shown, gets its number there, and is off
 * the list of waiting ones only when the service has said that it has it.
 */
export class StallDevice extends Device<StallState> {
  #store: StallStore | null = null
  #isSending = false
  /** Signed out elsewhere: on disk is only what was not sent; what is on the screen stays in memory. */
  #hasForgotten = false

  constructor() {
    super('stall', NOTHING_KEPT, RETRY_MS)
  }

  /** Takes a part for this device, or brings what is known of it up to date. What waits is sent first. */
  async openPart(wanted: PartWanted): Promise<Asked<StallPart>> {
    await this.flush()
    const body = JSON.stringify({ ...wanted, device: this.state.device })
    const asked = await ask('/api/stall/parts', (answer) => (isPart(answer) ? answer : undefined), {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body,
    })
    if (asked.kind === 'signed-out') await this.#setSignedOut()
    if (asked.kind === 'answered') await this.#write({ putParts: [asked.value] })
    return asked
  }

  /** Numbers a receipt and keeps it; then, and only then, it is a receipt. Null where an animal is on another one. */
  async sell(part: StallPart, make: (number: number) => KeptReceipt): Promise<KeptReceipt | null> {
    if (!this.#store) return null
    const made = await this.#store.writeReceipt(part, this.state.receipts, make)
    await this.refresh()
    this.pages?.postMessage('changed')
    void this.flush()
    return made
  }

  async signedIn(): Promise<void> {
    this.set({ isSignedOut: false, isSigningIn: false, who: null })
    await this.flush()
  }

  /** Sends whatever can be sent, and again later where it could not. */
  async flush(): Promise<void> {
    this.stopRetry()
    if (this.#isSending || !this.state.isRead) return
    this.#isSending = true
    const outcome = await this.underLock(() => this.#sendAll()).finally(() => {
      this.#isSending = false
    })
    if (outcome === 'again') return this.retryLater()
    this.failures = 0
    if (outcome === 'signed-out') return this.#setSignedOut()
    this.set({ connection: 'online', isSignedOut: false })
  }

  async #sendAll(): Promise<'all' | 'again' | 'signed-out'> {
    const who = await ask('/api/stall', (body) => (isWho(body) ? body : undefined))
    if (who.kind === 'signed-out') return 'signed-out'
    if (who.kind !== 'answered') return 'again'
    await this.#write({ who: who.value, ...(this.#hasForgotten ? this.#listOwn(who.value) : {}) })
    this.#hasForgotten = false
    for (;;) {
      const batch = this.#listSendable(who.value)
      if (batch.length === 0) return 'all'
      this.set({ connection: 'sending' })
      const asked = await ask('/api/stall', readAnswers, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ receipts: batch.map(({ sent }) => sent) }),
      })
      if (asked.kind === 'signed-out') return 'signed-out'
      if (asked.kind !== 'answered') return 'again'
      const putReceipts = settleReceipts(batch, asked.value)
      if (putReceipts.length === 0) return 'again'
      await this.#write({ putReceipts })
    }
  }

  /** What is on the screen of who has signed in again goes back to disk; what is of others does not. */
  #listOwn({ person }: StallWho): StallChange {
    return {
      putParts: this.state.parts.filter((part) => part.person.id === person.id),
      putReceipts: this.state.receipts.filter(({ sent }) => sent.personId === person.id),
    }
  }

  /** Those of who is signed in, in the order of their numbers; a series that was refused waits for somebody's word. */
  #listSendable({ person, workspaces }: StallWho): KeptReceipt[] {
    const mine = (receipt: KeptReceipt) =>
      receipt.sent.personId === person.id &&
      workspaces.some(({ id, maySell }) => maySell && id === receipt.sent.workspaceId)
    const { receipts } = this.state
    const stopped = new Set(
      receipts.filter(({ state }) => state === 'refused').map(({ sent }) => sent.series),
    )
    return receipts
      .filter((receipt) => receipt.state === 'waiting' && mine(receipt) && !stopped.has(receipt.sent.series))
      .toSorted((a, b) => a.sent.series.localeCompare(b.sent.series) || a.sent.number - b.sent.number)
      .slice(0, PER_SENDING)
  }

  /** Somebody signed this device out: its disk holds nothing but what was not sent. Selling goes on. */
  async #setSignedOut(): Promise<void> {
    this.set({ isSignedOut: true, connection: 'offline' })
    this.#hasForgotten = true
    if (this.#store) await this.#store.write(forgettingStall(await this.#store.read()))
  }

  /** Sent once more by hand, where the service has refused. */
  async sendAgain(): Promise<void> {
    const refused = this.state.receipts.filter(({ state }) => state === 'refused')
    await this.#write({ putReceipts: refused.map((receipt) => ({ ...receipt, state: 'waiting' as const })) })
    await this.flush()
  }

  protected async open(): Promise<void> {
    const store = await openStallStore()
    if (store === 'keeps-nothing') return this.set({ isRead: true, isLasting: false })
    this.#store = store
    this.set({ ...(await store.read()), isRead: true })
  }

  async #write(wanted: StallChange): Promise<void> {
    if (!this.#store) return
    await this.#store.write(wanted)
    await this.refresh()
    this.pages?.postMessage('changed')
  }

  protected async refresh(): Promise<void> {
    if (!this.#store) return
    const kept = await this.#store.read()
    this.set(this.#hasForgotten ? withForgotten(this.state, kept) : kept)
  }
}

type Answers = NonNullable<ReturnType<typeof readAnswers>>

/** The receipts after an answer. What was held back or not judged keeps waiting; whom they named is forgotten. */
export function settleReceipts(batch: readonly KeptReceipt[], answers: Answers): KeptReceipt[] {
  const answerOf = new Map(answers.map((answer) => [answer.id, answer]))
  return batch.flatMap((receipt): KeptReceipt[] => {
    const answer = answerOf.get(receipt.sent.id)
    if (!answer || answer.code === 'held-back' || isNotJudged(answer)) return []
    if (answer.status === 'refused')
      return [{ ...receipt, state: 'refused', told: answer.message ?? 'The service refused it.' }]
    const told = answer.label ? { told: answer.label } : {}
    return [{ ...receipt, sent: { ...receipt.sent, buyer: null }, state: 'sent', ...told }]
  })
}
