import { countUnsent } from '../bench/queue/leaving'
import { isUnsent } from '../moult-round/device-round'
import { ROUND_KEY, readRound } from '../moult-round/round-keeper'
import { countUnsentReceipts } from '../stall/stall-store'

/** What stands on this device alone, in words; null where everything has arrived. */
export async function sayUnsent(): Promise<string | null> {
  const atBench = await countUnsent()
  const rounds = Object.keys(localStorage)
    .filter((key) => key.startsWith(ROUND_KEY))
    .map((key) => readRound(localStorage.getItem(key) ?? ''))
    .filter((round) => round !== 'damaged' && isUnsent(round)).length
  const receipts = await countUnsentReceipts()
  if (atBench + rounds + receipts === 0) return null
  const parts = [
    atBench > 0 ? `${atBench} ${atBench === 1 ? 'entry' : 'entries'} at the bench` : '',
    rounds > 0 ? `${rounds} ${rounds === 1 ? 'moult round' : 'moult rounds'}` : '',
    receipts > 0 ? `${receipts} ${receipts === 1 ? 'receipt' : 'receipts'} of a show` : '',
  ].filter(Boolean)
  return `${parts.join(' and ')} ${atBench + rounds + receipts === 1 ? 'is' : 'are'} not sent`
}
