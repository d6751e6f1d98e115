/** What a person waits for a food plan. */
export const FOOD_PLAN_LIMIT_MS = 10_000
