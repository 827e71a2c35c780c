-- What looking at a vehicle is worth is kept with its score, as it comes with the advice. Scores from before have none,
-- and are made again.
-- AlterTable
ALTER TABLE "vehicle_scores" ADD COLUMN "looks" JSONB;
UPDATE "vehicles" SET "scored_from" = NULL;
