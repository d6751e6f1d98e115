// Runs one suite and counts what passed and what failed; what could not even be counted has failed.
import fs from 'node:fs'
import process from 'node:process'
import { inProject } from '../place.mjs'
import { CommandFailed, runProgram } from '../process/command.mjs'

const vitest = inProject('node_modules/vitest/vitest.mjs')

function argumentsFor(suite, reportFile) {
  return [
    vitest,
    'run',
    ...(suite.config ? ['--config', suite.config] : []),
    ...(suite.isSerial ? ['--no-file-parallelism'] : []),
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${reportFile}`,
    ...suite.files,
  ]
}

async function endsWell(file, args, env) {
  try {
    await runProgram(file, args, { shown: true, env })
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

/** @returns {Promise<{passed: number, failed: number}>} */
export async function runSuite(suite, env) {
  if (suite.files.length === 0) {
    process.stderr.write(`There are no tests in ${suite.folders.join(', ')}.\n`)
    return { passed: 0, failed: 1 }
  }
  const reportFile = inProject('test-output', `${suite.name.replaceAll(' ', '-')}.json`)
  fs.rmSync(reportFile, { force: true })
  const isWell = await endsWell(process.execPath, argumentsFor(suite, reportFile), env)
  const { passed, failed } = count(reportFile)
  return { passed, failed: isWell ? failed : Math.max(failed, 1) }
}

/** One program that either passes or fails, such as the linter. */
export async function runCheck(file, args) {
  const isWell = await endsWell(file, args, process.env)
  return { passed: isWell ? 1 : 0, failed: isWell ? 0 : 1 }
}
