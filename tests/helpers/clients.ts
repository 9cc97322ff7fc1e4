/** What clients announce. */
import type { ClientCapabilities } from 'vscode-languageserver-protocol';

/** What every editor of today announces. */
export const usualClient: ClientCapabilities = {
  textDocument: {
    publishDiagnostics: { relatedInformation: true },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: ['', 'quickfix', 'refactor', 'source'] } } },
    completion: {
      completionItem: {
        documentationFormat: ['markdown', 'plaintext'],
        insertTextModeSupport: { valueSet: [1, 2] },
      },
    },
  },
  workspace: { workspaceEdit: { documentChanges: true } },
};

/** The usual one, and more that it announces. */
export function withMore(more: ClientCapabilities): ClientCapabilities {
  return merged(usualClient, more) as ClientCapabilities;
}

function merged(one: unknown, other: unknown): unknown {
  if (!isRecord(one) || !isRecord(other)) return other === undefined ? one : other;
  const keys = new Set([...Object.keys(one), ...Object.keys(other)]);
  return Object.fromEntries([...keys].map((key) => [key, merged(one[key], other[key])]));
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return value !== null && typeof value === 'object' && !Array.isArray(value);
}

const later = { dynamicRegistration: true };
const kinds = (...valueSet: string[]) => ({ codeActionLiteralSupport: { codeActionKind: { valueSet } } });

/** All that this server asks about. */
const full: ClientCapabilities = withMore({
  general: { positionEncodings: ['utf-16'] },
  textDocument: {
    publishDiagnostics: { codeDescriptionSupport: true, tagSupport: { valueSet: [1, 2] } },
    diagnostic: { dynamicRegistration: true },
    codeAction: {
      dataSupport: true,
      disabledSupport: true,
      isPreferredSupport: true,
      resolveSupport: { properties: ['edit'] },
    },
    completion: { completionItem: { snippetSupport: true, insertReplaceSupport: true } },
    formatting: later,
    rangeFormatting: later,
    onTypeFormatting: later,
  },
  workspace: {
    applyEdit: true,
    configuration: true,
    didChangeConfiguration: later,
    workspaceFolders: true,
    diagnostics: { refreshSupport: true },
    inlayHint: { refreshSupport: true },
    workspaceEdit: {
      resourceOperations: ['create', 'rename', 'delete'],
      changeAnnotationSupport: { groupsOnLabel: true },
    },
  },
  window: { showDocument: { support: true }, workDoneProgress: true },
});

/**
 * What editors announce of what matters here, as their sources say: the repository and the file that builds it stand beside
 * each. What they announce of requests that this server does not answer is left out.
 */
export const clients: Readonly<Record<string, ClientCapabilities>> = {
  minimal: {},
  middling: usualClient,
  full,

  // neovim/neovim 0.7.2, runtime/lua/vim/lsp/protocol.lua, `make_client_capabilities`
  'Neovim 0.7': {
    textDocument: {
      codeAction: {
        ...kinds('', 'quickfix', 'refactor', 'refactor.rewrite', 'source'),
        dataSupport: true,
        resolveSupport: { properties: ['edit'] },
      },
      completion: {
        completionItem: {
          snippetSupport: false,
          preselectSupport: false,
          documentationFormat: ['markdown', 'plaintext'],
        },
        contextSupport: false,
      },
      hover: { contentFormat: ['markdown', 'plaintext'] },
      documentSymbol: { hierarchicalDocumentSymbolSupport: true },
      rename: { prepareSupport: true },
      publishDiagnostics: { relatedInformation: true, tagSupport: { valueSet: [1, 2] } },
    },
    workspace: {
      workspaceFolders: true,
      applyEdit: true,
      workspaceEdit: { resourceOperations: ['rename', 'create', 'delete'] },
    },
    window: { workDoneProgress: true, showDocument: { support: false } },
  },

  // emacs-mirror/emacs, lisp/progmodes/eglot.el, `eglot-client-capabilities`, as of eglot 1.9, with `gfm-view-mode`
  'Emacs, eglot': {
    textDocument: {
      completion: { completionItem: { snippetSupport: false, tagSupport: { valueSet: [1] } }, contextSupport: true },
      hover: { contentFormat: ['markdown', 'plaintext'] },
      documentSymbol: { hierarchicalDocumentSymbolSupport: true },
      codeAction: { ...kinds('quickfix', 'refactor', 'refactor.rewrite', 'source'), isPreferredSupport: true },
      formatting: { dynamicRegistration: false },
      rangeFormatting: { dynamicRegistration: false },
      publishDiagnostics: {
        relatedInformation: false,
        codeDescriptionSupport: false,
        tagSupport: { valueSet: [1, 2] },
      },
    },
    workspace: {
      applyEdit: true,
      workspaceEdit: { documentChanges: true },
      didChangeWatchedFiles: later,
      configuration: true,
      workspaceFolders: true,
    },
  },

  // helix-editor/helix, helix-lsp/src/client.rs, `initialize`
  Helix: {
    general: { positionEncodings: ['utf-8', 'utf-32', 'utf-16'] },
    textDocument: {
      completion: { completionItem: { snippetSupport: true, insertReplaceSupport: true } },
      hover: { contentFormat: ['markdown'] },
      rename: { prepareSupport: true, honorsChangeAnnotations: false },
      formatting: { dynamicRegistration: false },
      codeAction: {
        ...kinds('', 'quickfix', 'refactor', 'refactor.rewrite', 'source'),
        isPreferredSupport: true,
        disabledSupport: true,
        dataSupport: true,
        resolveSupport: { properties: ['edit', 'command'] },
      },
      publishDiagnostics: { versionSupport: true, tagSupport: { valueSet: [1, 2] } },
    },
    workspace: {
      configuration: true,
      workspaceFolders: true,
      applyEdit: true,
      inlayHint: { refreshSupport: false },
      workspaceEdit: { documentChanges: true, resourceOperations: ['create', 'rename', 'delete'] },
      didChangeWatchedFiles: { dynamicRegistration: true, relativePatternSupport: false },
    },
    window: { workDoneProgress: true },
  },

  // KDE/kate, addons/lspclient/lspclientserver.cpp, `initialize`, where folders are open
  Kate: {
    textDocument: {
      documentSymbol: { hierarchicalDocumentSymbolSupport: true },
      publishDiagnostics: { relatedInformation: true },
      codeAction: kinds(),
    },
    workspace: { workspaceFolders: true },
  },

  // zed-industries/zed, crates/lsp/src/lsp.rs, `default_initialize_params`
  Zed: {
    general: { positionEncodings: ['utf-16'] },
    textDocument: {
      codeAction: {
        ...kinds('refactor', 'quickfix', 'source'),
        dataSupport: true,
        resolveSupport: { properties: ['kind', 'diagnostics', 'isPreferred', 'disabled', 'edit', 'command'] },
      },
      completion: { completionItem: { snippetSupport: true, insertReplaceSupport: true }, contextSupport: true },
      rename: { prepareSupport: true },
      hover: { contentFormat: ['markdown'] },
      publishDiagnostics: { relatedInformation: true },
      formatting: later,
      rangeFormatting: later,
      onTypeFormatting: later,
      diagnostic: { dynamicRegistration: false, relatedDocumentSupport: true },
    },
    workspace: {
      configuration: true,
      didChangeWatchedFiles: { dynamicRegistration: true, relativePatternSupport: true },
      didChangeConfiguration: later,
      workspaceFolders: true,
      inlayHint: { refreshSupport: true },
      diagnostics: { refreshSupport: true },
      workspaceEdit: {
        resourceOperations: ['create', 'rename', 'delete'],
        documentChanges: true,
        snippetEditSupport: true,
      },
      applyEdit: true,
    },
    window: { workDoneProgress: true },
  },

  // sublimelsp/LSP, plugin/core/sessions.py, `get_initialize_params`
  Sublime: {
    textDocument: {
      hover: { contentFormat: ['markdown', 'plaintext'] },
      completion: {
        completionItem: {
          snippetSupport: true,
          documentationFormat: ['markdown', 'plaintext'],
          insertTextModeSupport: { valueSet: [2] },
        },
      },
      documentSymbol: { hierarchicalDocumentSymbolSupport: true },
      formatting: later,
      rangeFormatting: later,
      codeAction: {
        ...kinds('quickfix', 'refactor', 'refactor.rewrite'),
        dataSupport: true,
        disabledSupport: true,
        resolveSupport: { properties: ['edit'] },
      },
      rename: { prepareSupport: true },
      publishDiagnostics: {
        relatedInformation: true,
        tagSupport: { valueSet: [1, 2] },
        versionSupport: true,
        codeDescriptionSupport: true,
        dataSupport: true,
      },
    },
    workspace: {
      applyEdit: true,
      didChangeConfiguration: later,
      workspaceEdit: { documentChanges: true },
      workspaceFolders: true,
      configuration: true,
      inlayHint: { refreshSupport: true },
    },
    window: { showDocument: { support: true }, workDoneProgress: true },
  },
};
