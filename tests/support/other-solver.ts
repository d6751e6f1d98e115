import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { LinearProgram } from '@/lib/domain/program/linear'
import { writeProgram } from '@/lib/domain/program/text'

/** Solvers that share no code with ours, where the machine has them. */
const OTHERS = [
  {
    name: 'glpsol',
    version: '--version',
    solve: (model: string, report: string) => ['--lp', model, '--output', report],
    cost: /Objective:\s+cost = ([-+\d.e]+)/i,
  },
  {
    name: 'cbc',
    version: '-version',
    solve: (model: string, report: string) => [model, 'solve', 'solution', report],
    cost: /objective value\s+([-+\d.e]+)/i,
  },
]

export type OtherSolver = { name: string; solve: (program: LinearProgram) => number }

export function listOtherSolvers(): OtherSolver[] {
  return OTHERS.filter(({ name, version }) => {
    const { error, status } = spawnSync(name, [version], { input: 'quit\n', timeout: 10_000 })
    return !error && status === 0
  }).map((other) => ({
    name: other.name,
    solve: (program) => solveElsewhere(other, program),
  }))
}

/** @throws Error when the other solver finds no optimum */
function solveElsewhere(other: (typeof OTHERS)[number], program: LinearProgram): number {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'program-'))
  try {
    const model = path.join(folder, 'model.lp')
    const report = path.join(folder, 'report.txt')
    writeFileSync(model, writeProgram(program))
    const run = spawnSync(other.name, other.solve(model, report), { encoding: 'utf8', timeout: 120_000 })
    const cost = other.cost.exec(readFileSync(report, 'utf8'))?.[1]
    if (cost === undefined) throw new Error(`${other.name} found no optimum: ${run.stdout.slice(-400)}`)
    return Number(cost)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
