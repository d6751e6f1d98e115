import { countUnsent } from '../bench/queue/leaving'
import { isUnsent } from '../moult-round/device-round'
import { ROUND_KEY, readRound } from '../moult-round/round-keeper'

/** What stands on this device alone, in words; null where everything has arrived. */
export async function sayUnsent(): Promise<string | null> {
  const atBench = await countUnsent()
  const rounds = Object.keys(localStorage)
    .filter((key) => key.startsWith(ROUND_KEY))
    .map((key) => readRound(localStorage.getItem(key) ?? ''))
    .filter((round) => round !== 'damaged' && isUnsent(round)).length
  if (atBench + rounds === 0) return null
  const parts = [
    atBench > 0 ? `${atBench} ${atBench === 1 ? 'entry' : 'entries'} at the bench` : '',
    rounds > 0 ? `${rounds} ${rounds === 1 ? 'moult round' : 'moult rounds'}` : '',
  ].filter(Boolean)
  return `${parts.join(' and ')} ${atBench + rounds === 1 ? 'is' : 'are'} not sent`
}
