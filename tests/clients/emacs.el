;;; emacs.el --- What Emacs sees of an open spec  -*- lexical-binding: t -*-
;; As lines of JSON; started by emacs.mjs after the set-up of docs/editors.md.

(require 'json)
(require 'cl-lib)

(defun say (&rest plist)
  (princ (concat (json-serialize plist) "\n")))

(defun wait-for (what check)
  "Lets the server answer until CHECK holds; WHAT is the complaint after 60 s."
  (let ((deadline (+ (float-time) 60)))
    (while (not (funcall check))
      (when (> (float-time) deadline) (error "%s" what))
      (accept-process-output nil 0.05)
      (sit-for 0))))

(defun lsp-findings ()
  ;; Flymake asks for findings when Emacs is idle, which a batch never is.
  (flymake-start)
  (delq nil (mapcar (lambda (one) (alist-get 'eglot-lsp-diag (flymake-diagnostic-data one)))
                    (flymake-diagnostics))))

(defun as-told (finding)
  (let* ((range (plist-get finding :range)) (start (plist-get range :start)) (end (plist-get range :end)))
    (list :rule (plist-get finding :code)
          :severity (plist-get finding :severity)
          :source (plist-get finding :source)
          :message (plist-get finding :message)
          :line (1+ (plist-get start :line))
          :column (1+ (plist-get start :character))
          :endLine (1+ (plist-get end :line))
          :endColumn (1+ (plist-get end :character)))))

(defun go-to (text)
  (goto-char (point-min))
  (search-forward text)
  (goto-char (match-beginning 0)))

(condition-case problem
    (progn
      (unless (eq major-mode 'shoot-spec-mode) (error "the file opened in %s" major-mode))
      ;; `eglot-ensure' waits for the first command, of which a batch has none.
      (run-hooks 'post-command-hook)
      (wait-for "the server did not start" #'eglot-current-server)
      (wait-for "no findings within 60 s" #'lsp-findings)
      (say :step "findings" :findings (vconcat (mapcar #'as-told (lsp-findings))))
      (let ((server (eglot-current-server)))
        (go-to "white-balance")
        (let* ((hover (jsonrpc-request server :textDocument/hover (eglot--TextDocumentPositionParams) :timeout 60))
               (contents (plist-get hover :contents)))
          (say :step "hover" :text (plist-get contents :value)))
        (go-to "shuter")
        (let* ((line (line-number-at-pos))
               (range (list :start (eglot--pos-to-lsp-position (point))
                            :end (eglot--pos-to-lsp-position (+ (point) 6))))
               (actions (jsonrpc-request
                         server :textDocument/codeAction
                         (list :textDocument (eglot--TextDocumentIdentifier) :range range
                               :context (list :diagnostics [] :only ["quickfix"]))
                         :timeout 60))
               (action (elt actions 0)))
          (eglot--apply-workspace-edit (plist-get action :edit))
          (eglot--signal-textDocument/didChange)
          (wait-for "the finding stayed after its fix"
                    (lambda ()
                      (not (cl-some (lambda (one) (string-match-p "shuter" (plist-get one :message))) (lsp-findings)))))
          (goto-char (point-min))
          (forward-line (1- line))
          (say :step "fixed" :title (plist-get action :title)
               :line (buffer-substring-no-properties (line-beginning-position) (line-end-position))))
        (set-buffer-modified-p nil)
        (eglot-shutdown server)
        (wait-for "the server did not stop" (lambda () (not (jsonrpc-running-p server))))
        (say :step "stopped")))
  (error (say :step "failed" :message (error-message-string problem))
         (kill-emacs 1)))

;;; emacs.el ends here
