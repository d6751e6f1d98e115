import type { Calls } from './call'
import { CLIMATE_READS, CLIMATE_WRITES } from './climate'
import { COPY_READS, COPY_WRITES } from './copies'
import { DISPATCH_READS, DISPATCH_WRITES } from './dispatching'
import { FOOD_READS, FOOD_WRITES } from './food'
import { GROWTH_READS, GROWTH_WRITES } from './growth'
import { HOUSING_READS, HOUSING_WRITES } from './housing'
import { PLAN_READS, PLAN_WRITES } from './planning'
import { READS } from './reads'
import { REMINDER_READS, REMINDER_WRITES } from './reminders'
import { ROUND_READS, ROUND_WRITES } from './rounds'
import { SELLING_READS, SELLING_WRITES } from './selling'
import { SHEET_READS, SHEET_WRITES } from './sheets'
import { SHOW_READS, SHOW_WRITES } from './showing'
import { WRITES } from './writes'

export const ALL_WRITES: Calls = {
  ...WRITES,
  ...ROUND_WRITES,
  ...CLIMATE_WRITES,
  ...PLAN_WRITES,
  ...FOOD_WRITES,
  ...GROWTH_WRITES,
  ...SHEET_WRITES,
  ...COPY_WRITES,
  ...SELLING_WRITES,
  ...SHOW_WRITES,
  ...DISPATCH_WRITES,
  ...HOUSING_WRITES,
  ...REMINDER_WRITES,
}

export const CALLS: Calls = {
  ...READS,
  ...ROUND_READS,
  ...CLIMATE_READS,
  ...PLAN_READS,
  ...FOOD_READS,
  ...GROWTH_READS,
  ...SHEET_READS,
  ...SELLING_READS,
  ...SHOW_READS,
  ...DISPATCH_READS,
  ...HOUSING_READS,
  ...REMINDER_READS,
  ...COPY_READS,
  ...ALL_WRITES,
}
export const isWrite = (name: string) => name in ALL_WRITES
