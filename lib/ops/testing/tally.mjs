// Runs one suite and counts what passed and what failed; what could not even be counted has failed.
import fs from 'node:fs'
import process from 'node:process'
import { inProject } from '../place.mjs'
import { CommandFailed, runProgram } from '../process/command.mjs'

const vitest = inProject('node_modules/vitest/vitest.mjs')

function argumentsFor(suite, reportFile, isBeside) {
  return [
    vitest,
    'run',
    ...(suite.config ? ['--config', suite.config] : []),
    ...(suite.isSerial || isBeside ? ['--no-file-parallelism'] : []),
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${reportFile}`,
    ...suite.files,
  ]
}

async function endsWell(file, args, options) {
  try {
    await runProgram(file, args, options)
    return true
  } catch (error) {
    if (error instanceof CommandFailed) return false
    throw error
  }
}

const hasNoTests = ({ status, assertionResults }) => status === 'failed' && assertionResults.length === 0

function count(reportFile) {
  if (!fs.existsSync(reportFile)) return { passed: 0, failed: 1 }
  const report = JSON.parse(fs.readFileSync(reportFile, 'utf8'))
  return {
    passed: report.numPassedTests,
    failed: report.numFailedTests + report.testResults.filter(hasNoTests).length,
  }
}

/** Two suites that run side by side are told apart by the name before each line. */
const named = ({ name }) => ({ onLine: (line) => process.stdout.write(`${name} │ ${line}\n`) })

/**
 * @param {{isBeside?: boolean}} [how] whether another suite runs at the same time: then it takes one core
 * @returns {Promise<{passed: number, failed: number}>}
 */
export async function runSuite(suite, env, { isBeside = false } = {}) {
  if (suite.files.length === 0) {
    process.stderr.write(`There are no tests in ${suite.folders.join(', ')}.\n`)
    return { passed: 0, failed: 1 }
  }
  const reportFile = inProject('test-output', `${suite.name.replaceAll(' ', '-')}.json`)
  fs.rmSync(reportFile, { force: true })
  const args = argumentsFor(suite, reportFile, isBeside)
  const isWell = await endsWell(process.execPath, args, {
    env,
    ...(isBeside ? named(suite) : { shown: true }),
  })
  const { passed, failed } = count(reportFile)
  return { passed, failed: isWell ? failed : Math.max(failed, 1) }
}

/** One program that either passes or fails, such as the linter. */
export async function runCheck(file, args) {
  const isWell = await endsWell(file, args, { env: process.env, shown: true })
  return { passed: isWell ? 1 : 0, failed: isWell ? 0 : 1 }
}
