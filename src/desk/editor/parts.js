// What the desk takes of CodeMirror; `npm run make` puts it into one script, `made.js`.
export { acceptCompletion, autocompletion, closeCompletion, completionKeymap, startCompletion } from "@codemirror/autocomplete";
export { defaultKeymap, history, historyKeymap, indentWithTab, redo, undo } from "@codemirror/commands";
export { codeFolding, foldAll, foldGutter, foldKeymap, foldService, unfoldAll } from "@codemirror/language";
export { highlightSelectionMatches, openSearchPanel, search, searchKeymap } from "@codemirror/search";
export { Annotation, Compartment, EditorSelection, EditorState, RangeSet, StateEffect, StateField } from "@codemirror/state";
export {
  Decoration,
  EditorView,
  GutterMarker,
  ViewPlugin,
  WidgetType,
  drawSelection,
  gutter,
  highlightActiveLine,
  hoverTooltip,
  keymap,
  lineNumbers,
  placeholder,
} from "@codemirror/view";
