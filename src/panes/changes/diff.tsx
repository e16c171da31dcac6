import * as monaco from 'monaco-editor/editor';
import EditorWorker from 'monaco-editor/editor/editor.worker?worker&inline';
import 'monaco-editor/features/codicon/register';
import 'monaco-editor/features/find/register';
import 'monaco-editor/features/folding/register';
import 'monaco-editor/features/toggleTabFocusMode/register';
import 'monaco-editor/languages/definitions/xml/register';
import { useEffect, useRef } from 'react';
import type { Comparison } from '../../worker/protocol.ts';

self.MonacoEnvironment = { getWorker: () => new EditorWorker() };

/** The editor in the colours of the page: ink for what the file says, blue for what you decided. */
function paint(): void {
  const style = getComputedStyle(document.documentElement);
  const token = (name: string) => style.getPropertyValue(name).trim();
  const night = style.colorScheme === 'dark';
  const hex = (name: string) => token(name).replace('#', '');
  // Forced colours are system words that the editor cannot take; it has a theme of its own for them.
  if (!/^#[0-9a-f]{6}$/i.test(token('--ink'))) {
    monaco.editor.setTheme(night ? 'hc-black' : 'hc-light');
    return;
  }
  monaco.editor.defineTheme('sheet', {
    base: night ? 'vs-dark' : 'vs',
    inherit: false,
    rules: [
      { token: '', foreground: hex('--ink') },
      { token: 'tag', foreground: hex('--ink') },
      { token: 'attribute.name', foreground: hex('--ink-2') },
      { token: 'delimiter', foreground: hex('--ink-2') },
      { token: 'comment', foreground: hex('--ink-2') },
      { token: 'metatag', foreground: hex('--ink-2') },
    ],
    colors: {
      'editor.background': token('--paper'),
      'editor.foreground': token('--ink'),
      'editorLineNumber.foreground': token('--ink-2'),
      'editorLineNumber.activeForeground': token('--ink'),
      'editor.lineHighlightBorder': token('--rule'),
      'editorIndentGuide.background1': token('--rule'),
      'editorGutter.background': token('--paper'),
      'diffEditor.insertedLineBackground': token('--blue-tint'),
      'diffEditor.insertedTextBackground': `${token('--blue')}33`,
      'diffEditor.removedLineBackground': token('--band'),
      'diffEditor.removedTextBackground': `${token('--ink')}1c`,
      'diffEditor.border': token('--edge'),
      'diffEditor.diagonalFill': token('--rule'),
      'diffEditor.unchangedRegionBackground': token('--band'),
      'diffEditor.unchangedRegionForeground': token('--ink-2'),
      'diffEditor.unchangedCodeBackground': token('--paper'),
      'diffEditor.unchangedRegionShadow': '#00000000',
      'scrollbar.shadow': '#00000000',
      'widget.shadow': '#00000000',
      focusBorder: token('--blue'),
    },
  });
  monaco.editor.setTheme('sheet');
}

/** Both sides of one section in an editor that writes nothing. What is downloaded never comes from here. */
export default function Diff({ comparison, name }: { comparison: Comparison; name: string }) {
  const box = useRef<HTMLDivElement>(null);
  const editor = useRef<monaco.editor.IStandaloneDiffEditor>(null);
  useEffect(() => {
    paint();
    const watch = new MutationObserver(paint);
    watch.observe(document.documentElement, { attributeFilter: ['data-theme'] });
    const system = matchMedia('(prefers-color-scheme: dark)');
    system.addEventListener('change', paint);
    const made = monaco.editor.createDiffEditor(box.current!, {
      readOnly: true,
      originalEditable: false,
      automaticLayout: true,
      minimap: { enabled: false },
      scrollBeyondLastLine: false,
      renderOverviewRuler: false,
      hideUnchangedRegions: { enabled: true },
      renderSideBySideInlineBreakpoint: 720,
      useInlineViewWhenSpaceIsLimited: true,
      maxComputationTime: 5000,
      fontSize: 12,
      lineHeight: 18,
      fontFamily: '"Spline Sans Mono", "Liberation Mono", Menlo, Consolas, monospace',
      unicodeHighlight: { ambiguousCharacters: false },
    });
    editor.current = made;
    return () => {
      editor.current = null;
      watch.disconnect();
      system.removeEventListener('change', paint);
      made.dispose();
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
      // The editor may be gone already: its own effect is undone first.
      editor.current?.setModel(null);
      original.dispose();
      modified.dispose();
    };
  }, [comparison, name]);
  return <div ref={box} className="diff-editor" />;
}
