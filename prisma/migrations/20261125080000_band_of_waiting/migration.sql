-- The 80 % band of what waiting costs, where something is to be done. What was scored before has none until it is
-- scored again.
ALTER TABLE "component_scores" ADD COLUMN     "waiting_high" DOUBLE PRECISION,
ADD COLUMN     "waiting_low" DOUBLE PRECISION;
