export const BUYER = {
  name: 'Anyone',
  email: '',
  phone: '',
  address: '',
  country: 'NL',
  experience: 'beginner',
  note: '',
  keepConsent: true,
  newsConsent: false,
} as const
