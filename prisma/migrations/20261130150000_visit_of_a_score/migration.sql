-- What could be done on a visit is reckoned with the score it rests on, and no page follows the vehicle again for it.
-- Scores that are there already have none until they are next reckoned, at the latest with the day.
ALTER TABLE "vehicle_scores" ADD COLUMN "visit" JSONB;
