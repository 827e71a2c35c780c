-- Files that are brought in are read a piece at a time, for which they must lie there as they are, not compressed.
ALTER TABLE "intake_files" ALTER COLUMN "content" SET STORAGE EXTERNAL;
