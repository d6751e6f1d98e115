import { playSeason } from '../support/season-play'
import { drawSeason } from '../support/season-room'
import { planPolicy, TUNED_RULES } from '../support/season-policies'
export async function run() {
  for (const kind of ['steady', 'bursts'] as const)
  for (const seed of ['x','y']) for (const [name, p] of [['base', TUNED_RULES[3]!.policy([1.5,1.2,1.2,16,0.6])], ['plan', planPolicy({ scenarios: 24, effort: 1000000 })]] as const) {
    const t = performance.now()
    const s = drawSeason(seed, kind, 'uneven');
    const d = ((globalThis as any).DEBUGX = { missed: [], wasted: [] } as any)
    const r = await playSeason(s, p)
    console.log(kind, seed, name, Math.round(performance.now() - t), 'ms', r.score.toFixed(2), (100*r.missed/r.needed).toFixed(2), (r.wasted/r.eaten).toFixed(3), r.starts, 'missed', d.missed.map((x: number) => Math.round(x)).join(' '), 'wasted', d.wasted.map((x: number) => Math.round(x)).join(' '))
  }
}
