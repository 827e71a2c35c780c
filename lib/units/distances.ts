/** International mile in kilometres (exact, 1959 agreement). */
export const KM_PER_MILE = 1.609344

export const kmFromMiles = (miles: number): number => miles * KM_PER_MILE
export const milesFromKm = (km: number): number => km / KM_PER_MILE
