-- What the people of the demo are, and what today asks them to decide.
-- AlterTable
ALTER TABLE "people" ADD COLUMN     "decides" TEXT,
ADD COLUMN     "title" TEXT;
