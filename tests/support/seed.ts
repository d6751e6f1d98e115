// Every random example of a run hangs on the one seed that npm test prints, so that a failure can be repeated.
if (process.env.TEST_SEED) {
  const { default: fastCheck } = await import('fast-check')
  fastCheck.configureGlobal({ seed: Number(process.env.TEST_SEED) })
}

export {}
