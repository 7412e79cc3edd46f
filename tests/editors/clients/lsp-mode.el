;;; lsp-mode.el --- A session with lsp-mode -*- lexical-binding: t -*-

(load (expand-file-name "author" (file-name-directory load-file-name)) nil t)
(setq lsp-auto-guess-root t
      lsp-session-file (expand-file-name "lsp-session" (getenv "HOME"))
      lsp-warn-no-matched-clients nil
      lsp-response-timeout author-patience)

(defun session-diagnostics ()
  "Every finding on the file at hand."
  (gethash (lsp--fix-path-casing (buffer-file-name)) (lsp-diagnostics t)))

(defun session-errors ()
  "The errors on the file at hand."
  (cl-remove-if-not (lambda (one) (eql (lsp-get one :severity) 1)) (session-diagnostics)))

(defun session-messages ()
  "The first line of every finding."
  (vconcat (mapcar (lambda (one) (lsp-get one :message)) (session-diagnostics))))

(defun session-open (name)
  "Open the file NAME and wait for the server that this starts or joins."
  (author-open name)
  (author-wait "server" (lambda ()
                          (cl-some (lambda (one) (eq 'initialized (lsp--workspace-status one)))
                                   lsp--buffer-workspaces))))

(author-works
 ;; a finding shows
 (session-open "recipes/cup.recipe")
 (author-note 'filetype (symbol-name major-mode))
 (author-note 'syntax (progn (font-lock-ensure) (format "%s" (get-text-property 1 'face))))
 (author-wait "shows" #'session-errors)
 (author-note 'findings (session-messages))
 ;; it is fixed
 (goto-char (lsp--position-to-point (lsp-get (lsp-get (car (session-errors)) :range) :start)))
 (let* ((actions (append (lsp-code-actions-at-point) nil))
        (titles (mapcar (lambda (one) (lsp-get one :title)) actions)))
   (author-note 'titles (vconcat titles))
   (lsp-execute-code-action
    (cl-find-if (lambda (one) (string-match-p (getenv "FOOD") (lsp-get one :title))) actions)))
 (author-wait "fixed" (lambda () (not (author-holds (getenv "SLIP")))))
 (author-wait "clears" (lambda () (null (session-errors))))
 (author-note 'left (session-messages))
 ;; a food is completed
 (setq-local completion-at-point-functions '(lsp-completion-at-point))
 (author-completions)
 ;; what is under the cursor is explained
 (author-go (getenv "FOOD"))
 (author-note 'hover (format "%S" (lsp-get (lsp-request "textDocument/hover" (lsp--text-document-position-params)) :contents)))
 (author-note 'definition
              (let ((found (lsp-request "textDocument/definition" (lsp--text-document-position-params))))
                (setq found (if (hash-table-p found) found (elt (append found nil) 0)))
                (file-name-nondirectory (or (lsp-get found :uri) (lsp-get found :targetUri)))))
 ;; it is renamed, in this file and in those that are not open
 (lsp-rename (getenv "NEW_NAME"))
 (author-wait "renamed" (lambda () (author-holds (getenv "NEW_NAME"))))
 (save-some-buffers t)
 (author-note 'cup (author-text))
 ;; a file is laid out
 (session-open "recipes/loose.recipe")
 (lsp-format-buffer)
 (author-note 'formatted (author-text))
 (save-some-buffers t)
 (lsp-workspace-shutdown (car lsp--buffer-workspaces)))
;;; lsp-mode.el ends here
