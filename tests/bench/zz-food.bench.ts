import { playSeason, type SeasonResult, type SeasonPolicy } from '../support/season-play'
import { drawSeason, ROOM_KINDS, YIELD_REGIMES } from '../support/season-room'
import { planPolicy, TUNED_RULES } from '../support/season-policies'
import { readFileSync, writeFileSync, existsSync } from 'node:fs'
const N = Number(process.env.N ?? 4)
const TN = Number(process.env.TN ?? 8)
const cacheFile = process.env.TUNED ?? '/tmp/foodx/tuned.json'
const cache: Record<string, number[]> = existsSync(cacheFile) ? JSON.parse(readFileSync(cacheFile, 'utf8')) : {}
async function mean(policy: SeasonPolicy, kind: any, regime: any, seeds: string[]) {
  const rs: SeasonResult[] = []
  for (const s of seeds) rs.push(await playSeason(drawSeason(s, kind, regime), policy))
  return rs
}
const avg = (rs: SeasonResult[], f: (r: SeasonResult) => number) => rs.reduce((a, r) => a + f(r), 0) / rs.length
export async function run() {
  const only = (process.env.RULES ?? 'proportional,base stock').split(',')
  const tuneSeeds = Array.from({ length: TN }, (_, i) => `tune/${i}`)
  const evalSeeds = Array.from({ length: N }, (_, i) => `${process.env.MASTER ?? 'dev'}/${i}`)
  const totals: Record<string, number[]> = {}
  for (const kind of ROOM_KINDS) for (const regime of YIELD_REGIMES) {
    const rows: Record<string, SeasonResult[]> = {}
    for (const rule of TUNED_RULES.filter((r) => only.includes(r.name))) {
      const key = `${rule.name}/${kind}/${regime}`
      if (!cache[key]) {
        const t = performance.now()
        let best = rule.grid.map((g) => g[Math.floor(g.length / 2)]!)
        let score = avg(await mean(rule.policy(best), kind, regime, tuneSeeds), (r) => r.score)
        for (let round = 0; round < 3; round++) {
          const before = score
          for (let i = 0; i < rule.grid.length; i++) for (const v of rule.grid[i]!) {
            if (v === best[i]) continue
            const cand = best.with(i, v)
            const sc = avg(await mean(rule.policy(cand), kind, regime, tuneSeeds), (r) => r.score)
            if (sc < score) { score = sc; best = cand }
          }
          if (score > before - 1e-9) break
        }
        cache[key] = best
        writeFileSync(cacheFile, JSON.stringify(cache, null, 1))
        console.log('tuned', key, best, score.toFixed(2), Math.round(performance.now() - t), 'ms')
      }
      rows[rule.name] = await mean(rule.policy(cache[key]!), kind, regime, evalSeeds)
    }
    for (const cfg of (process.env.PLANS ?? '24:400000').split(',')) {
      const [s, e] = cfg.split(':').map(Number)
      const t = performance.now()
      rows[`plan ${cfg}`] = await mean(planPolicy({ scenarios: s!, effort: e! }), kind, regime, evalSeeds)
      console.log(cfg, Math.round((performance.now() - t) / N / 26), 'ms/decision')
    }
    console.log(kind, regime)
    console.table(Object.entries(rows).map(([name, rs]) => ({ name, score: avg(rs, r => r.score).toFixed(2), missed: (avg(rs, r => 100 * r.missed / r.needed)).toFixed(2), wasted: avg(rs, r => r.wasted / r.eaten).toFixed(3), starts: avg(rs, r => r.starts).toFixed(0), needed: avg(rs, r=>r.needed).toFixed(0) })))
    for (const [n, rs] of Object.entries(rows)) (totals[n] ??= []).push(avg(rs, r => r.score))
  }
  console.table(Object.entries(totals).map(([n, t]) => ({ n, total: t.reduce((a, b) => a + b, 0).toFixed(2), vs: totals['base stock'] ? (t.reduce((a, b) => a + b, 0) / totals['base stock'].reduce((a, b) => a + b, 0)).toFixed(3) : '', cells: t.map((x, i) => totals['base stock'] ? (x / totals['base stock'][i]!).toFixed(2) : '').join(' ') })))
}
