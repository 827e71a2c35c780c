'use client'

import { type DragEvent, type SubmitEvent, useRef, useState } from 'react'
import styles from './intake.module.css'

/** Chooses files, or takes those that are dropped, folders too; a plain form where no script runs. */
export function DropZone({ mostMegabytes }: { mostMegabytes: number }) {
  const form = useRef<HTMLFormElement>(null)
  const input = useRef<HTMLInputElement>(null)
  const [state, setState] = useState<'waiting' | 'over' | 'sending'>('waiting')
  const [tooLarge, setTooLarge] = useState<number | null>(null)

  const send = (event: SubmitEvent) => {
    const megabytes = megabytesOf(input.current?.files)
    setTooLarge(megabytes > mostMegabytes ? megabytes : null)
    if (state === 'sending' || megabytes > mostMegabytes) event.preventDefault()
    else setState('sending')
  }

  const drop = async (event: DragEvent) => {
    event.preventDefault()
    if (state === 'sending' || !input.current) return
    const taken = new DataTransfer()
    for (const file of await filesOf(event.dataTransfer)) taken.items.add(file)
    setState('waiting')
    if (taken.files.length === 0) return
    input.current.files = taken.files
    form.current?.requestSubmit()
  }
  return (
    <form
      ref={form}
      className={styles.zone}
      data-state={state}
      method="post"
      action="/intake/upload"
      encType="multipart/form-data"
      onSubmit={send}
      onDragOver={(event) => {
        event.preventDefault()
        if (state === 'waiting') setState('over')
      }}
      onDragLeave={() => state === 'over' && setState('waiting')}
      onDrop={drop}
    >
      <label htmlFor="files">Files, or a folder dropped here</label>
      <input
        ref={input}
        id="files"
        type="file"
        name="files"
        multiple
        accept=".csv,.json,.txt,.tsv,.xlsx,.xlsm,.xlsb,.xls,.ods"
      />
      <button type="submit" className={styles.act} aria-disabled={state === 'sending'}>
        {state === 'sending' ? 'Sending …' : 'Look them over'}
      </button>
      {tooLarge !== null && (
        <p role="alert">
          These are {tooLarge} MB, and {mostMegabytes} MB are taken at once. Choose fewer, or split them.
        </p>
      )}
      <p className={styles.soft}>
        Nothing is taken in before you have seen what it does. Up to {mostMegabytes} MB at once.
      </p>
    </form>
  )
}

/** How much files are together, rounded up. */
const megabytesOf = (files: FileList | null | undefined): number =>
  Math.ceil([...(files ?? [])].reduce((sum, { size }) => sum + size, 0) / (1024 * 1024))

/** The files that were dropped, and those of dropped folders; what is dropped is there to be read at once, or never. */
async function filesOf(dropped: DataTransfer): Promise<File[]> {
  const found = [...dropped.items].map((item) => {
    const entry = item.webkitGetAsEntry()
    return entry ? filesIn(entry) : [item.getAsFile()]
  })
  return (await Promise.all(found)).flat().filter((file) => file !== null)
}

async function filesIn(entry: FileSystemEntry): Promise<File[]> {
  if (entry.isFile)
    return [
      await new Promise<File>((resolve, reject) => (entry as FileSystemFileEntry).file(resolve, reject)),
    ]
  const reader = (entry as FileSystemDirectoryEntry).createReader()
  const inside = await new Promise<FileSystemEntry[]>((resolve, reject) =>
    reader.readEntries(resolve, reject),
  )
  const files = await Promise.all(inside.filter((each) => each.isFile).map(filesIn))
  return files.flat()
}
