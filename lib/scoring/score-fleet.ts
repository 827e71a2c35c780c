// A signpost while the house is being built.
export * from '@/lib/decisions/score-fleet'
