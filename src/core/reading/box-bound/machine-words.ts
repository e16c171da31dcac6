/** Words for the console and the start of a machine, in several languages; from memory, and weak evidence. */
export const consoleWords = new Set(
  'console comconsole vidconsole konsole consola konsol konzole serial seriale serielle seriell serie tty baud baudrate terminal comport'.split(
    ' ',
  ),
);
export const bootWords = new Set(
  'boot bootloader loader startup arranque startvorgang startlader bootlader demarrage amorcage zagruzka загрузка загрузчик bootdisk'.split(
    ' ',
  ),
);

export const isMachineWord = (word: string): boolean => consoleWords.has(word) || bootWords.has(word);
