import * as monaco from 'monaco-editor/editor';
import EditorWorker from 'monaco-editor/editor/editor.worker?worker&inline';
import 'monaco-editor/features/find/register';
import 'monaco-editor/features/folding/register';
import 'monaco-editor/features/toggleTabFocusMode/register';
import 'monaco-editor/languages/definitions/xml/register';
import { useEffect, useRef } from 'react';
import type { Comparison } from '../../worker/protocol.ts';

self.MonacoEnvironment = { getWorker: () => new EditorWorker() };

const night = () => getComputedStyle(document.documentElement).colorScheme === 'dark';

/** Both sides of one section in an editor that writes nothing. What is downloaded never comes from here. */
export default function Diff({ comparison, name }: { comparison: Comparison; name: string }) {
  const box = useRef<HTMLDivElement>(null);
  const editor = useRef<monaco.editor.IStandaloneDiffEditor>(null);
  useEffect(() => {
    const made = monaco.editor.createDiffEditor(box.current!, {
      readOnly: true,
      originalEditable: false,
      automaticLayout: true,
      minimap: { enabled: false },
      scrollBeyondLastLine: false,
      hideUnchangedRegions: { enabled: true },
      renderSideBySideInlineBreakpoint: 720,
      useInlineViewWhenSpaceIsLimited: true,
      maxComputationTime: 5000,
      fontSize: 12,
      lineHeight: 18,
      fontFamily: '"Spline Sans Mono", "Liberation Mono", Menlo, Consolas, monospace',
      unicodeHighlight: { ambiguousCharacters: false },
      links: false,
    });
    editor.current = made;
    const paint = () => monaco.editor.setTheme(night() ? 'vs-dark' : 'vs');
    paint();
    const watch = new MutationObserver(paint);
    watch.observe(document.documentElement, { attributeFilter: ['data-theme'] });
    const system = matchMedia('(prefers-color-scheme: dark)');
    system.addEventListener('change', paint);
    return () => {
      watch.disconnect();
      system.removeEventListener('change', paint);
      made.dispose();
      editor.current = null;
    };
  }, []);
  useEffect(() => {
    const made = editor.current!;
    const original = monaco.editor.createModel(comparison.before, 'xml');
    const modified = monaco.editor.createModel(comparison.after, 'xml');
    made.setModel({ original, modified });
    const count = (first: number) => (line: number) => String(line + first - 1);
    made
      .getOriginalEditor()
      .updateOptions({ lineNumbers: count(comparison.beforeLine), ariaLabel: `${name}, old file` });
    made.getModifiedEditor().updateOptions({ lineNumbers: count(comparison.afterLine), ariaLabel: `${name}, result` });
    return () => {
      made.setModel(null);
      original.dispose();
      modified.dispose();
    };
  }, [comparison, name]);
  return <div ref={box} className="diff-editor" />;
}
