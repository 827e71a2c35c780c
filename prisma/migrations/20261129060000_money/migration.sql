-- What the coming quarter may bring and what policies cost, over all vehicles of an organisation.
-- CreateTable
CREATE TABLE "money_reports" (
    "organisation_id" UUID NOT NULL,
    "ground" TEXT NOT NULL,
    "records" TEXT NOT NULL,
    "content" JSON NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "money_reports_pkey" PRIMARY KEY ("organisation_id")
);

-- By hand: row-level security, as for the other tables.
ALTER TABLE "money_reports" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "money_reports" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "money_reports" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
