/** Stands on every receipt, whatever else does. */
export const NO_CERTIFIED_TILL =
  'This records a payment. It is no receipt of a certified till; where the law wants one, that till writes it.'
