import { z } from 'zod'

export const PASSWORD_LETTERS = 10

export const newPassword = z
  .string()
  .min(PASSWORD_LETTERS, `At least ${PASSWORD_LETTERS} letters, figures or signs.`)
  .max(200, 'At most 200 letters.')

export const signUpSchema = z.strictObject({
  name: z.string().trim().min(1, 'Give your name.').max(80, 'At most 80 letters.'),
  email: z.email('This is not a mail address.').max(200, 'At most 200 letters.'),
  password: newPassword,
})
export type SignUp = z.output<typeof signUpSchema>

export const askForResetSchema = z.strictObject({
  email: z.email('This is not a mail address.').max(200, 'At most 200 letters.'),
})

export const resetPasswordSchema = z.strictObject({
  token: z.string().min(20).max(200),
  password: newPassword,
})
export type ResetPassword = z.output<typeof resetPasswordSchema>

export const changePasswordSchema = z.strictObject({
  current: z.string().min(1, 'Enter the password you have now.').max(200, 'At most 200 letters.'),
  password: newPassword,
})
export type ChangePassword = z.output<typeof changePasswordSchema>

const code = z.string().trim().min(6, 'Enter the six figures of the app.').max(30, 'At most 30 letters.')

export const startSecondFactorSchema = z.strictObject({})
export const confirmSecondFactorSchema = z.strictObject({ code })
export const provePasswordSchema = z.strictObject({
  current: z.string().min(1, 'Enter your password.').max(200, 'At most 200 letters.'),
})
export type ProvePassword = z.output<typeof provePasswordSchema>

export const askForConfirmationSchema = z.strictObject({})
export const confirmAddressSchema = z.strictObject({ token: z.string().min(20).max(200) })

export const endDeviceSchema = z.strictObject({ id: z.uuid() })
