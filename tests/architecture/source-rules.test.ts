import { describe, expect, it } from 'vitest'
import { type Rule, sayOffences } from './rule'
import { featureRules } from './rules/features'
import { gateRules } from './rules/gates'
import { habitRules } from './rules/habits'
import { layerRules } from './rules/layers'
import { migrationRules } from './rules/migrations'
import { nameRules } from './rules/names'
import { placeRules } from './rules/places'
import { pureCoreRules } from './rules/pure-core'
import { scopeRules } from './rules/scope'
import { textRules } from './rules/texts'
import { loadProject, plantProject } from './source/project'

const RULES: Rule[] = [
  ...pureCoreRules,
  ...placeRules,
  ...layerRules,
  ...featureRules,
  ...gateRules,
  ...scopeRules,
  ...nameRules,
  ...habitRules,
  ...textRules,
  ...migrationRules,
]

describe.each(RULES)('$sentence', (rule) => {
  it('holds in every file', () => {
    expect(sayOffences(rule.check(loadProject()))).toEqual([])
  })

  it.each(rule.bites.map((files) => ({ planted: Object.entries(files).flat().join(' · '), files })))(
    'bites $planted',
    ({ files }) => {
      expect(rule.check(plantProject(files))).not.toEqual([])
    },
  )

  it('leaves alone what it allows', () => {
    expect(sayOffences(rule.check(plantProject(rule.passes)))).toEqual([])
  })
})
