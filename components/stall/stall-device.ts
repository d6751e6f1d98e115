import type { StallPart, StallWho } from '@/lib/features/stall/schema'
import { type Asked, ask } from '../bench/queue/ask'
import { isNotJudged, readAnswers } from '../bench/queue/send'
import {
  forgettingStall,
  type KeptReceipt,
  type KeptStall,
  openStallStore,
  type StallChange,
  type StallStore,
} from './stall-store'

export type StallState = KeptStall & {
  isRead: boolean
  /** False where the browser keeps nothing: then nothing can be sold here without a connection. */
  isLasting: boolean
  isSignedOut: boolean
  isSigningIn: boolean
  connection: 'online' | 'offline' | 'sending'
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

/** Only one page of the device sends at a time; where locks are missing (plain http) the service sorts it out. */
function underLock<T>(work: () => Promise<T>): Promise<T> {
  return navigator.locks ? navigator.locks.request('stall', work) : work()
}

/**
 * The counter of this device at a show. A receipt is kept on disk before it is shown, gets its number there, and is off
 * the list of waiting ones only when the service has said that it has it.
 */
export class StallDevice {
  #state = NOTHING_KEPT
  readonly #listeners = new Set<() => void>()
  #store: StallStore | null = null
  #timer: ReturnType<typeof setTimeout> | undefined
  #failures = 0
  #isSending = false
  #pages: BroadcastChannel | undefined

  readonly subscribe = (listener: () => void) => {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  readonly getState = (): StallState => this.#state

  /** Reads what was kept and begins to send. Returns how to end it. */
  readonly start = (): (() => void) => {
    const wake = () => void this.flush()
    window.addEventListener('online', wake)
    document.addEventListener('visibilitychange', wake)
    this.#pages = new BroadcastChannel('stall')
    this.#pages.onmessage = () => void this.#refresh()
    void this.#open().then(wake)
    return () => {
      window.removeEventListener('online', wake)
      document.removeEventListener('visibilitychange', wake)
      this.#pages?.close()
      clearTimeout(this.#timer)
    }
  }

  /** Takes a part for this device, or brings what is known of it up to date. What waits is sent first. */
  async openPart(wanted: PartWanted): Promise<Asked<StallPart>> {
    await this.flush()
    const body = JSON.stringify({ ...wanted, device: this.#state.device })
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
  async sell(series: string, make: (number: number) => KeptReceipt): Promise<KeptReceipt | null> {
    if (!this.#store) return null
    const made = await this.#store.writeReceipt(series, make)
    await this.#refresh()
    this.#pages?.postMessage('changed')
    void this.flush()
    return made
  }

  setSigningIn(isSigningIn: boolean): void {
    this.#set({ isSigningIn })
  }

  async signedIn(): Promise<void> {
    this.#set({ isSignedOut: false, isSigningIn: false, who: null })
    await this.flush()
  }

  /** Sends whatever can be sent, and again later where it could not. */
  async flush(): Promise<void> {
    clearTimeout(this.#timer)
    if (this.#isSending || !this.#state.isRead) return
    this.#isSending = true
    const outcome = await underLock(() => this.#sendAll()).finally(() => {
      this.#isSending = false
    })
    if (outcome === 'again') return this.#retryLater()
    this.#failures = 0
    if (outcome === 'signed-out') return this.#setSignedOut()
    this.#set({ connection: 'online', isSignedOut: false })
  }

  async #sendAll(): Promise<'all' | 'again' | 'signed-out'> {
    await this.#refresh()
    const who = await ask('/api/stall', (body) => (isWho(body) ? body : undefined))
    if (who.kind === 'signed-out') return 'signed-out'
    if (who.kind !== 'answered') return 'again'
    await this.#write({ who: who.value })
    for (;;) {
      const batch = this.#listSendable(who.value)
      if (batch.length === 0) return 'all'
      this.#set({ connection: 'sending' })
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

  /** Those of who is signed in, in the order of their numbers; a series that was refused waits for somebody's word. */
  #listSendable({ person, workspaces }: StallWho): KeptReceipt[] {
    const mine = (receipt: KeptReceipt) =>
      receipt.sent.personId === person.id &&
      workspaces.some(({ id, maySell }) => maySell && id === receipt.sent.workspaceId)
    const { receipts } = this.#state
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
    this.#set({ isSignedOut: true, connection: 'offline' })
    if (this.#store) await this.#store.write(forgettingStall(await this.#store.read()))
  }

  /** Sent once more by hand, where the service has refused. */
  async sendAgain(): Promise<void> {
    const refused = this.#state.receipts.filter(({ state }) => state === 'refused')
    await this.#write({ putReceipts: refused.map((receipt) => ({ ...receipt, state: 'waiting' as const })) })
    await this.flush()
  }

  #retryLater(): void {
    const waitMs = RETRY_MS[Math.min(this.#failures, RETRY_MS.length - 1)]
    this.#failures += 1
    this.#set({ connection: 'offline' })
    this.#timer = setTimeout(() => void this.flush(), waitMs)
  }

  async #open(): Promise<void> {
    const store = await openStallStore()
    if (store === 'keeps-nothing') return this.#set({ isRead: true, isLasting: false })
    this.#store = store
    this.#set({ ...(await store.read()), isRead: true })
  }

  async #write(wanted: StallChange): Promise<void> {
    if (!this.#store) return
    await this.#store.write(wanted)
    await this.#refresh()
    this.#pages?.postMessage('changed')
  }

  async #refresh(): Promise<void> {
    if (this.#store) this.#set(await this.#store.read())
  }

  #set(change: Partial<StallState>): void {
    this.#state = { ...this.#state, ...change }
    for (const listener of this.#listeners) listener()
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
