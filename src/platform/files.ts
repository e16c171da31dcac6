/** Hands bytes to the browser's own download. */
export function download(bytes: BlobPart, name: string, type: string): void {
  const address = URL.createObjectURL(new Blob([bytes], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // Some browsers read the address only after the click has returned.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** Lets a person choose one file; null where none was chosen. */
export function choose(accept: string): Promise<File | null> {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = accept;
    input.hidden = true;
    input.addEventListener('change', () => finish(input.files?.[0] ?? null));
    input.addEventListener('cancel', () => finish(null));
    const finish = (file: File | null) => {
      input.remove();
      resolve(file);
    };
    document.body.append(input);
    input.click();
  });
}
